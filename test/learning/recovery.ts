import { expect } from 'vitest';
import { randomFrequencyDesk } from './random-desks.js';
import { compare, isAmong, type Recovery, recover } from './recover.js';
import type { SimulatedDesk } from './simulated-desk.js';

/** Kinds whose values follow a rule from end to end. */
export const ruleKinds: readonly string[] = [
  'geometric',
  'ratio-steps',
  'linear',
  'octave-fraction',
  'preferred-numbers',
  'significant-digits',
];

/** So many desks of seeds with a remainder modulo 8, which is one kind each. */
export const seedsOf = (remainder: number, count: number): readonly number[] =>
  Array.from({ length: count }, (_, at) => remainder + 8 * at);

const describeDesk = ({ kind, values, display }: SimulatedDesk): string =>
  `${kind}, ${values.length} values from ${values[0]} to ${values.at(-1)}, ${JSON.stringify(display)}`;

/** What is said of a recovery that breaks a law. */
export const told = (seed: number, { desk, engineer, learned }: Recovery): string =>
  `${seed}: ${describeDesk(desk)}: ${engineer.typed} -> ${learned.candidates
    .slice(0, 3)
    .map(({ spec }) => JSON.stringify(spec).slice(0, 120))
    .join(' or ')}`;

/** Whether the desk's grid is the only one left: or the only one as far as its screen tells. */
export const isOnlyOne = ({ learned, desk }: Recovery): boolean =>
  learned.candidates.length > 0 && learned.candidates.every((each) => compare(each, desk) !== 'wrong');

export const median = (numbers: readonly number[]): number =>
  [...numbers].sort((a, b) => a - b)[numbers.length >> 1] ?? Number.NaN;

/** What became of many desks: by how many the desk's grid was the only one left, and how many readings that took. */
export interface Tally {
  readonly only: number;
  readonly all: number;
  readonly medianReadings: number;
}

/**
 * Follows what is asked to the end on every desk, and holds what must hold on each: a grid that is called settled is the
 * desk's, and while a rule explains the desk it is among the candidates after every reading.
 */
export const recoverAll = (
  seeds: readonly number[],
  deskOf: (seed: number) => SimulatedDesk = randomFrequencyDesk,
): Tally => {
  const wrong: string[] = [];
  const missing: string[] = [];
  const readings: number[] = [];
  let only = 0;
  for (const seed of seeds) {
    const recovery = recover(deskOf(seed));
    const { desk, stages, learned, stuck } = recovery;
    expect(stuck, `${seed}: what is asked can be done`).toBeNull();
    if (learned.isSettled && compare(learned.candidates[0], desk) === 'wrong')
      wrong.push(told(seed, recovery));
    // Stretches nobody saw and lists nobody read to the end are no rule yet.
    const isRuled = desk.kind !== 'piecewise-linear' && desk.kind !== 'table' && desk.kind !== 'slope';
    const held = isRuled ? stages : stages.slice(-1).filter(() => learned.isSettled);
    if (held.some((stage) => !isAmong(stage.learned, desk))) missing.push(told(seed, recovery));
    readings.push(recovery.readings);
    if (isOnlyOne(recovery)) only += 1;
  }
  expect(wrong, 'settled, and not what the desk has').toEqual([]);
  expect(missing, 'the grid of the desk was ruled out').toEqual([]);
  return { only, all: seeds.length, medianReadings: median(readings) };
};
