import { describe, expect, it } from 'vitest';
import { nextWords, type ReadOff, readOff, withMore } from '../../src/cli/words/readings.js';
import type { Reading } from '../../src/learning/reading.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { itemAt } from '../../src/units/at.js';
import { step } from '../../src/units/quantity.js';
import { randomFrequencyDesk } from '../learning/random-desks.js';
import { type SimulatedDesk, show } from '../learning/simulated-desk.js';

const read = (text: string): ReadOff => {
  const off = readOff(text, 'frequency');
  if (!off.ok) throw new Error(`${off.error} in: ${text}`);
  return off.value;
};

const isLike =
  ({ text, stop }: Reading) =>
  (other: Reading): boolean =>
    other.text === text && other.stop === stop;

/** Whoever stands at a desk and types what it shows, a question after the other; `at` are the steps of all readings. */
const answer = (
  { readings, learned }: ReadOff,
  { values, display }: SimulatedDesk,
  at: readonly number[],
): { readonly typed: string; readonly at: readonly number[] } | null => {
  const last = values.length - 1;
  const shown = (index: number): string => show(itemAt(values, index), display);
  const next = learned.next?.do;
  switch (next?.kind) {
    case 'stop': {
      const index = next.end === 'top' ? last : 0;
      return { typed: shown(index), at: [...at, index] };
    }
    case 'near': {
      const far = (index: number): number => Math.abs(itemAt(values, index) - next.value);
      const near = values.reduce((best, _, index) => (far(index) < far(best) ? index : best), 0);
      const then = near + (next.thenClicksUp ?? 0);
      if (next.thenClicksUp === null || then > last || then < 0)
        return { typed: shown(near), at: [...at, near] };
      return { typed: `${shown(near)} ${shown(then)}`, at: [...at, near, then] };
    }
    case 'clicks': {
      const place = readings.readings.findLastIndex(isLike(next.from));
      const from = itemAt(at, place);
      const before = place === readings.readings.length - 1 ? at : [...at, from];
      const to = from + next.clicksUp;
      if (to >= 0 && to <= last) return { typed: shown(to), at: [...before, to] };
      // It stops sooner.
      const [end, way, word] = to < 0 ? [0, 'down', 'bottom'] : [last, 'up', 'top'];
      const typed = `${Math.abs(end - from)} clicks ${way} ${shown(end)} ${word}`;
      return { typed, at: [...before, end] };
    }
    case 'again': {
      return { typed: shown(itemAt(at, readings.readings.findIndex(isLike(next.reading)))), at };
    }
    default:
      return null;
  }
};

describe('readings that are asked for one after another', () => {
  it('are put together so that the grid of the desk comes out, whatever kind it is of', () => {
    let settled = 0;
    // A stretch with other steps where nothing was read is not ruled out, and a list has no rule: those aside.
    for (const seed of [0, 1, 2, 3, 4, 5, 8, 9, 10, 11, 12, 13]) {
      const desk = randomFrequencyDesk(seed);
      const last = desk.values.length - 1;
      let at: readonly number[] = [last, last - 1];
      let text = `${show(itemAt(desk.values, last), desk.display)} top ${show(itemAt(desk.values, last - 1), desk.display)}`;
      let off = read(text);
      for (let asked = 0; asked < 8 && !off.learned.isSettled; asked++) {
        const given = answer(off, desk, at);
        if (!given) break;
        text = withMore(text, off, given.typed);
        off = read(text);
        at = given.at;
        expect(off.readings.readings.length, text).toBe(at.length);
      }
      if (!off.learned.isSettled) continue;
      settled++;
      const made = makeQuantiser(itemAt(off.learned.candidates, 0).spec);
      expect(made.ok, text).toBe(true);
      if (!made.ok) continue;
      const { count, valueAt } = made.value;
      expect(count, `${desk.kind}: ${text}`).toBe(desk.values.length);
      // As far as a screen of three digits or more can tell.
      for (const [index, value] of desk.values.entries()) {
        expect(Math.abs(valueAt(step(index)) / value - 1), `${desk.kind} at ${index}: ${text}`).toBeLessThan(
          0.01,
        );
      }
    }
    expect(settled).toBeGreaterThanOrEqual(10);
  });

  it('go on from the last where they say so themselves', () => {
    const off = read('20.00k top 19.43k');
    expect(withMore('20.00k top 19.43k', off, '20.00 bottom')).toBe('20.00k top 19.43k .. 20.00 bottom');
    expect(withMore('20.00k top 19.43k', off, '20.00')).toBe('20.00k top 19.43k .. 20.00 bottom');
  });

  it.each<[string, RegExp]>([
    ['20.00k top 19.43k', /^Turn the frequency to its bottom stop: what does it show there\?$/],
    [
      '20.00k top .. 20.00 bottom',
      /^From 20\.00k, its top stop, turn the frequency 1 click down: what does it show\?$/,
    ],
  ])('are asked for in words: after %s', (text, words) => {
    const { next } = read(text).learned;
    expect(next && nextWords(next, 'frequency')).toMatch(words);
  });
});
