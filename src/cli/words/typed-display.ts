import { displayValue } from '../../model/display.js';
import type { Knob } from '../../model/knob.js';
import { knobParsers } from '../../model/parse-knob.js';
import type { Display, NumberDisplay } from '../../model/target.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { hz, step } from '../../units/quantity.js';
import { quoteText } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';

const kilo = /\d\s*k/i;

const digitsOf = (text: string): string => /\d[\d.]*|\.\d+/.exec(text)?.[0] ?? '';
const decimalsIn = (text: string): number => digitsOf(text).split('.')[1]?.length ?? 0;
const significantIn = (text: string): number =>
  digitsOf(text)
    .replace('.', '')
    .replace(/^0+(?=.)/, '').length;

const allEqual = (numbers: readonly number[]): number | null =>
  numbers.length > 0 && numbers.every((number) => number === numbers[0]) ? (numbers[0] ?? null) : null;

/** How a screen shows the values of a knob that shows these: with as many decimals, or as many digits in all. */
export const displayOf = (knob: Knob, shown: readonly string[]): NumberDisplay | null => {
  const inKilo = shown.filter((text) => kilo.test(text));
  const kiloFromHz = knob === 'frequency' && inKilo.length > 0 ? { kiloFromHz: hz(1000) } : {};
  const decimals = allEqual(shown.map(decimalsIn));
  const significantDigits = allEqual(shown.map(significantIn));
  // One value tells either; a frequency's decimals move with its size, other values' mostly do not.
  const isOne = shown.length === 1;
  const bySize = knob === 'frequency' && inKilo.length > 0;
  if (significantDigits !== null && (decimals === null || (isOne && bySize) || (!isOne && bySize))) {
    return { significantDigits, ...kiloFromHz };
  }
  if (decimals !== null) return { decimals, ...kiloFromHz };
  return significantDigits === null ? null : { significantDigits, ...kiloFromHz };
};

const knobOf = (text: string, knobs: readonly Knob[]): Knob | undefined => {
  const has = (knob: Knob): Knob | undefined => (knobs.includes(knob) ? knob : undefined);
  if (/hz$|\dk$|\dk\d/i.test(text)) return has('frequency');
  if (/db\/oct/i.test(text)) return has('slope');
  if (/db$/i.test(text) || /^[+\-\u2212]/.test(text)) return has('gain');
  if (/oct/i.test(text)) return has('bandwidth');
  return has('q') ?? has('bandwidth');
};

/** How a screen shows values, by examples of some: `19.32 kHz, 8.00, -15.0 dB`. */
export const parseDisplay = (text: string, knobs: readonly Knob[]): Result<Display, string> => {
  let display: Display = {};
  for (const part of text.split(/[,;]/).map((each) => each.trim())) {
    const knob = knobOf(part, knobs);
    const read = knob && knobParsers[knob](part);
    if (!knob || !read) {
      return fail(
        `${quoteText(part)} is no value of a knob here; write what the screen shows, as in "19.32 kHz, 8.00, -15.0 dB".`,
      );
    }
    if (!read.ok) return read;
    const shown = displayOf(knob, [part]);
    if (shown) display = { ...display, [knob]: shown };
  }
  return ok(display);
};

/** A finer grid is entered, not clicked: its steps need not differ on the screen. */
const mostLookedAt = 5000;
const mostDigits = 7;

const looksAlike = (knob: Knob, grid: Quantiser, display: Display): boolean => {
  let before = '';
  for (let index = 0; index < grid.count; index++) {
    const shown = displayValue(knob, grid.valueAt(step(index)), display);
    if (shown === before) return true;
    before = shown;
  }
  return false;
};

/** Digits enough to tell the steps of a knob apart, where nobody told how many the screen shows. */
export const displayFor = (knob: Knob, grids: readonly Quantiser[]): NumberDisplay => {
  const [least, kiloFromHz] = knob === 'frequency' ? [4, { kiloFromHz: hz(1000) }] : [3, {}];
  const looked = grids.filter(({ count }) => count <= mostLookedAt);
  const styles = Array.from({ length: mostDigits }, (_, digits): NumberDisplay => {
    if (knob === 'gain') return { decimals: digits + 1 };
    return knob === 'slope' ? { decimals: digits } : { significantDigits: least + digits, ...kiloFromHz };
  });
  const enough = styles.find((style) => looked.every((grid) => !looksAlike(knob, grid, { [knob]: style })));
  return enough ?? styles[0] ?? { decimals: 1 };
};
