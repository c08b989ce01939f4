import { getEventListeners } from 'node:events';
import { expect, it } from 'vitest';
import { joinSignals } from '../../src/live/session/any-signal.js';

const listeners = (each: AbortController): number => getEventListeners(each.signal, 'abort').length;

it('a joined signal is given with the first of those it was made of', () => {
  for (const first of [0, 1]) {
    const both = [new AbortController(), new AbortController()];
    const { signal } = joinSignals(...both.map((each) => each.signal));
    expect(signal.aborted).toBe(false);
    both[first]?.abort();
    expect(signal.aborted).toBe(true);
  }
});

it('is given from the start where one of them is', () => {
  const [given, not] = [AbortSignal.abort(), new AbortController().signal];
  expect(joinSignals(not, given).signal.aborted).toBe(true);
});

it('leaves nothing in them once it is released, and is not given any more', () => {
  const both = [new AbortController(), new AbortController()];
  const { signal, release } = joinSignals(...both.map((each) => each.signal));
  expect(both.map(listeners)).toEqual([1, 1]);
  release();
  expect(both.map(listeners)).toEqual([0, 0]);
  both[0]?.abort();
  expect(signal.aborted).toBe(false);
});
