import { describe, expect, it } from 'vitest';
import { learnGrid } from '../../src/learning/learn-grid.js';
import { parseReadings } from '../../src/learning/parse-readings.js';
import type { Reading } from '../../src/learning/reading.js';
import type { Knob } from '../../src/model/knob.js';
import { recover } from './recover.js';
import { randomFrom } from './simulated-desk.js';

const learned = (text: string, knob: Knob = 'frequency') => {
  const readings = parseReadings(text, knob);
  if (!readings.ok) throw new Error(readings.error);
  return learnGrid(readings.value);
};

/** What a desk answered, so much to either side. */
const answered = (
  value: number,
  half: number,
  clicksUp: number | null,
  stop: Reading['stop'] = null,
): Reading => ({
  text: String(value),
  ifRounded: { least: value - half, most: value + half },
  ifCut: { least: value - half, most: value + half },
  clicksUp,
  stop,
  isSure: false,
});

/** 101 values from 20 Hz to 20 kHz, each the same factor above the one before. */
const geometric = (at: number): number => 20 * 1000 ** (at / 100);

describe('readings that are hard to explain', () => {
  it('may be narrower than doubles tell apart', () => {
    const { candidates } = learnGrid({
      knob: 'frequency',
      readings: [
        answered(geometric(100), 0, null, 'top'),
        answered(geometric(99), 0, -1),
        ...Array.from({ length: 12 }, (_, at) => answered(geometric(8 * at + 3), 0, null)),
        answered(geometric(0), 0, null, 'bottom'),
      ],
    });
    expect(candidates.map(({ spec }) => spec)).toEqual([
      { kind: 'geometric', from: 20, to: 20_000, count: 101 },
    ]);
  });

  it('may be as good as nothing wide, round zero', () => {
    const { candidates } = learnGrid({
      knob: 'gain',
      readings: [
        answered(-15, 6e-39, null, 'bottom'),
        answered(-14.5, 6e-39, 1),
        answered(0, 6e-39, 29),
        answered(15, 6e-39, 30, 'top'),
      ],
    });
    expect(candidates.map(({ spec }) => spec)).toEqual([{ kind: 'linear', from: -15, to: 15, step: 0.5 }]);
  });

  it.each([6, 12, 20, 30])('may be %d that nothing explains: then no rule is made up', (count) => {
    const random = randomFrom(5);
    const values = Array.from({ length: count }, () => 21 + random() * 19_000).sort((a, b) => a - b);
    const text = values.map((value) => value.toFixed(1)).join(' ');
    const { candidates, isSettled, next } = learned(`20.0 bottom ${text} 20000.0 top`);
    expect(isSettled && candidates[0]?.spec.kind !== 'table').toBe(false);
    expect(candidates.every(({ spec }) => spec.kind === 'table')).toBe(true);
    expect(next === null).toBe(isSettled);
  });

  /** Every number of four digits looks the same on a screen of four, so that it is not the only one. */
  it('may have no clicks at all: then it may be that any value can be set', () => {
    const { candidates } = learned('20.00 bottom .. 20.00k top .. 481.3 .. 8.513k');
    expect(candidates.map(({ spec }) => spec)).toContainEqual({ kind: 'continuous', from: 20, to: 20_000 });
  });

  /** Ten thousand values in whole Hz: many lines show the same, half a unit apart. */
  it('are not asked for for ever where a screen tells no more', () => {
    const values = Array.from({ length: 4434 }, (_, at) => 11 + at);
    const { learned: last, readings } = recover({
      kind: 'linear',
      values,
      display: { decimals: 0, cuts: false },
      knob: 'frequency',
    });
    expect(last.candidates.map(({ spec }) => spec)).toEqual([
      { kind: 'linear', from: 11, to: 4444, step: 1 },
    ]);
    expect(last.next === null || last.isSettled).toBe(true);
    expect(readings).toBeLessThanOrEqual(10);
  });
});
