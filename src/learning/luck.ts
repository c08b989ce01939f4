import { itemAt } from '../units/at.js';
import type { KnobReadings, Reading } from './reading.js';
import { type KnownBeside, type Shape, shapesThatExplain } from './shapes.js';
import { without } from './without.js';

/** So much of the way that was counted a wrong rule is likely to miss by. */
const bend = 0.1;

/**
 * Grids that follow no rule have round numbers too: that one stands where a published series or a number of few digits has
 * it tells little, more where it is also the next click from another.
 */
const leastForRound = { alone: 0.5, clicked: 0.2 } as const;

/** Kinds of grid whose values are round. */
export const roundKinds: readonly string[] = ['preferred-numbers', 'significant-digits', 'piecewise-linear'];

/** How likely a reading would fit by luck: the share of the way from step to step that is taken, for each shape there was. */
const luckOf = (all: KnobReadings, at: number, shape: Shape, known: KnownBeside): number => {
  const reading = itemAt(all.readings, at);
  const { least, most } = reading.ifRounded;
  const { below, above } = shape.simplest.neighboursOf((least + most) / 2);
  const spacing = below && above ? (above.least - below.least) / 2 : 0;
  // Where clicks were counted a wrong rule is off by more than a step, the farther the more.
  const room = spacing * Math.max(1, bend * Math.abs(reading.clicksUp ?? 0));
  if (!(most - least < room)) return 1;
  const kept = without(all, { wrong: [at], apart: [] });
  const { shapes, areMore } = shapesThatExplain(kept, known);
  if (areMore || shapes.length === 0) return 1;
  const share = Math.min(1, (shapes.length * (most - least)) / room);
  if (!roundKinds.includes(shape.simplest.spec.kind)) return share;
  return Math.max(share, reading.clicksUp === null ? leastForRound.alone : leastForRound.clicked);
};

const isOnlyOneAt = (readings: readonly Reading[], { stop }: Reading): boolean =>
  stop !== null && readings.filter((each) => each.stop === stop).length === 1;

/** How likely what could be spared of the readings would all have fitted anyway; null where none can be spared. */
export const luckOfAll = (all: KnobReadings, shape: Shape, known: KnownBeside): number | null => {
  const chances = all.readings.flatMap((reading, at) =>
    isOnlyOneAt(all.readings, reading) ? [] : [luckOf(all, at, shape, known)],
  );
  return chances.length === 0 ? null : chances.reduce((product, chance) => product * chance, 1);
};

/** By so little chance a wrong grid may have passed for a right one. */
export const acceptableLuck = 0.05;
