import type { Extent } from './extent.js';

/** Centres at which to look for extremes over a range of frequencies, and what may lie between them. */
export interface Centres {
  readonly hz: readonly number[];
  /** How far an extreme between two of them may lie beyond what they show. */
  readonly looseDb: number;
}

/** So many inside a range are all looked at; of more, one in so many octaves, and not more than so many. */
const fewInside = 4;
const octavesBetweenLooks = 0.1;
const mostLooks = 12;

/**
 * How far an extreme between two looks h octaves apart may lie beyond both, at points outside the filter's own middle.
 * Where what a filter takes changes smoothly as its centre moves, by h²/8 of the second derivative, which is then below
 * 100 dB per octave squared. Designs that meet the analogue gain at half the sample rate change course near it, by up to
 * 2.4 dB per octave where it matters: a quarter of that times h. Both seen over many filters, not derived (kept by the
 * law of bounds).
 */
const looseBetween = (octaves: number): number => (100 / 8) * octaves * octaves + (2.4 / 4) * octaves;

const octavesBetween = (fromHz: number, toHz: number): number => Math.log2(toHz / fromHz);

/**
 * Both ends of the range, where a filter takes the most and the least of all if what it takes only ever falls, or only
 * ever rises, as it moves; and, where the range reaches beyond `turnHz`, from where on that may not be so, some inside.
 */
export const centresOf = ({ lattice: { frequency }, f: [first, last] }: Extent, turnHz: number): Centres => {
  const bottomHz = frequency.valueAt(first);
  if (first === last) return { hz: [bottomHz], looseDb: 0 };
  const topHz = frequency.valueAt(last);
  const inside = last - first - 1;
  if (inside === 0 || topHz <= turnHz) return { hz: [bottomHz, topHz], looseDb: 0 };
  const octaves = octavesBetween(bottomHz, topHz);
  const looks = Math.min(inside, Math.max(fewInside, Math.ceil(octaves / octavesBetweenLooks)), mostLooks);
  const isAll = inside <= looks;
  // Of very many only the ends are looked at, once they lie so near one another that nothing bends between them.
  if (!isAll && octaves < octavesBetweenLooks / 4) {
    return { hz: [bottomHz, topHz], looseDb: looseBetween(octaves) };
  }
  const at = Array.from({ length: looks }, (_, i) =>
    frequency.valueAt(isAll ? first + 1 + i : first + Math.round(((i + 1) * (last - first)) / (looks + 1))),
  );
  const hz = [bottomHz, ...at, topHz];
  const widest = Math.max(...hz.slice(1).map((each, i) => octavesBetween(hz[i] as number, each)));
  return { hz, looseDb: isAll ? 0 : looseBetween(widest) };
};
