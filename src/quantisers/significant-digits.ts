import { timesPowerOfTen } from './decimals.js';
import { type Family, familyWithin } from './grid.js';
import { positiveEnd, readParameters, wholeNumber } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/** Numbers m · 10^p with `digits` digits in m: 9 · 10^(digits − 1) of them in a decade. */
const numbersOf = (digits: number): Family => {
  const least = timesPowerOfTen(1, digits - 1);
  const perDecade = 9 * least;
  return {
    name: digits === 1 ? 'number of 1 significant digit' : `number of ${digits} significant digits`,
    lowest: -6 * perDecade,
    highest: 9 * perDecade,
    member: (ordinal) => {
      const decade = Math.floor(ordinal / perDecade);
      return timesPowerOfTen(least + (ordinal - decade * perDecade), decade - (digits - 1));
    },
  };
};

/** A knob or field that takes so many significant digits: with three, 19.3 and 19 300 but no 19 320. */
export const significantDigits: QuantiserKind = {
  kind: 'significant-digits',
  summary: 'every number of so many significant digits: from, to, digits',
  create: (spec) => {
    const read = readParameters(spec, { from: positiveEnd, to: positiveEnd, digits: wholeNumber(1, 7) });
    return read.ok ? familyWithin(numbersOf(read.value.digits), read.value.from, read.value.to) : read;
  },
};
