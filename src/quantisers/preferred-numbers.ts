import { timesPowerOfTen } from './decimals.js';
import { type Family, familyWithin } from './grid.js';
import { oneOf, positiveEnd, readParameters } from './parameters.js';
import type { QuantiserKind } from './quantiser.js';

/**
 * One decade of R80, in hundredths (ISO 3:1973; from memory, in agreement with public restatements of it).
 * They are rounded by agreement, not by rule, so they can only be listed.
 */
const r80 = [
  100, 103, 106, 109, 112, 115, 118, 122, 125, 128, 132, 136, 140, 145, 150, 155, 160, 165, 170, 175, 180,
  185, 190, 195, 200, 206, 212, 218, 224, 230, 236, 243, 250, 258, 265, 272, 280, 290, 300, 307, 315, 325,
  335, 345, 355, 365, 375, 387, 400, 412, 425, 437, 450, 462, 475, 487, 500, 515, 530, 545, 560, 580, 600,
  615, 630, 650, 670, 690, 710, 730, 750, 775, 800, 825, 850, 875, 900, 925, 950, 975,
] as const;

const seriesNames = ['R5', 'R10', 'R20', 'R40', 'R80'] as const;
type SeriesName = (typeof seriesNames)[number];

/** Each series is every second number of the next. */
const preferredNumbersOf = (series: SeriesName): Family => {
  const perDecade = Number(series.slice(1));
  const stride = r80.length / perDecade;
  return {
    name: `preferred number of ${series} (ISO 3)`,
    lowest: -6 * perDecade,
    highest: 9 * perDecade,
    member: (ordinal) => {
      const decade = Math.floor(ordinal / perDecade);
      const hundredths = r80[(ordinal - decade * perDecade) * stride];
      if (hundredths === undefined) throw new RangeError(`${series} has no member ${ordinal}`);
      return timesPowerOfTen(hundredths, decade - 2);
    },
  };
};

/** R10 gives the preferred frequencies of ISO 266, the nominal third-octave frequencies. */
export const preferredNumbers: QuantiserKind = {
  kind: 'preferred-numbers',
  summary: 'nominal preferred numbers of ISO 3 (R10: third-octave frequencies): from, to, series',
  create: (spec) => {
    const read = readParameters(spec, { from: positiveEnd, to: positiveEnd, series: oneOf(seriesNames) });
    return read.ok
      ? familyWithin(preferredNumbersOf(read.value.series), read.value.from, read.value.to)
      : read;
  },
};
