import type { Interval } from './reading.js';

/** How many digits one has to say of a number: 1 for 20000, 3 for 19.3. */
export const digitsOf = (value: number): number => {
  const digits =
    /^-?([\d.]+)/
      .exec(String(value))?.[1]
      ?.replace('.', '')
      .replace(/^0+|0+$/g, '') ?? '';
  return Math.max(1, digits.length);
};

/** The liking people have for leading digits, of numbers with one more digit of the same size. */
const liked = (multiple: number): number => {
  const last = Math.abs(multiple) % 10;
  return last === 0 ? 3 : last === 5 ? 2 : last % 2 === 0 ? 1 : 0;
};

/**
 * The simplest decimal in an interval: fewest digits, then zero, fives and even last digits, then nearest to the middle.
 * Throws RangeError for an empty interval.
 */
export const simplestIn = ({ least, most }: Interval): number => {
  if (!(least <= most)) throw new RangeError(`no number lies from ${least} to ${most}`);
  if (least <= 0 && most >= 0) return 0;
  const size = Math.max(Math.abs(least), Math.abs(most));
  const middle = (least + most) / 2;
  for (let power = Math.ceil(Math.log10(size)); power > -18; power--) {
    const unit = Number(`1e${power}`);
    const first = Math.ceil(least / unit);
    const last = Math.min(Math.floor(most / unit), first + 20);
    let best: number | null = null;
    for (let multiple = first; multiple <= last; multiple++) {
      const gain =
        best === null
          ? 1
          : liked(multiple) - liked(best) ||
            Math.abs(best * unit - middle) - Math.abs(multiple * unit - middle);
      if (gain > 0) best = multiple;
    }
    if (best !== null) return Number(`${best}e${power}`);
  }
  return middle;
};

/** A number near another, as round as people can turn to. */
export const roundish = (value: number, share = 0.05): number => {
  const loose = Math.abs(value) * share;
  return simplestIn({ least: value - loose, most: value + loose });
};
