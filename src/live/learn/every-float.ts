import { makeQuantiser } from '../../quantisers/registry.js';
import { step } from '../../units/quantity.js';
import type { GridFound, ValueKnob } from './grids-left.js';
import type { Ladder } from './ladder.js';
import { type ProbedKnob, type Probing, placeBetween } from './probing.js';

/** The shortest decimal that arrives as a value. */
const shortest = (value: number, { asSent }: ProbedKnob): number => {
  for (let digits = 1; digits < 17; digits++) {
    const short = Number(value.toPrecision(digits));
    if (asSent(short) === value) return short;
  }
  return value;
};

/** Every value there is, from stop to stop. */
export const everyFloat = (knob: ProbedKnob, least: number, most: number): readonly GridFound[] => {
  const ends = [
    [shortest(least, knob), shortest(most, knob)],
    [least, most],
  ];
  return ends
    .flatMap(([from, to]): GridFound[] => {
      const spec = { kind: 'continuous', from, to };
      const grid = makeQuantiser(spec);
      return grid.ok ? [{ spec, grid: grid.value }] : [];
    })
    .filter(({ grid }) =>
      [0, grid.count - 1].every((end, at) => grid.valueAt(step(end)) === [least, most][at]),
    )
    .slice(0, 1);
};

/** So many places at random. */
const placesTried = 5;

/**
 * Whether a knob keeps what it is sent as it is, at some places at random and at one as near to the first as can be: how many
 * those were, or null where it did not keep one.
 */
export function* keepsAll(
  knob: ValueKnob,
  ladder: Ladder,
  [least, most]: readonly [number, number],
  random: () => number,
): Probing<number | null> {
  const places = Array.from({ length: placesTried }, () =>
    knob.asSent(placeBetween(knob, least, most, random())),
  );
  const first = places[0] ?? least;
  let right = 0;
  for (const place of [...places, knob.next(first, 1)]) {
    const { value } = yield place;
    ladder.add(value);
    if (value !== place) return null;
    right++;
  }
  return right;
}
