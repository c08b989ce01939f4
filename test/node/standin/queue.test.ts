import { describe, expect, it } from 'vitest';
import { systemClock } from '../../../src/node/network/clock.js';
import { makeQueue } from '../../../src/node/standin/start-standin.js';

/** A clock whose waits end when they are told to. */
const handClock = () => {
  const ends: (() => void)[] = [];
  const wait = (_: number, signal?: AbortSignal) =>
    new Promise<void>((resolve) => {
      ends.push(resolve);
      signal?.addEventListener('abort', () => resolve());
    });
  return { clock: { ...systemClock, wait }, ends };
};

const settled = () => new Promise((resolve) => setImmediate(resolve));

describe('what is held back', () => {
  it('is done when its time has come, what is not is done at once', async () => {
    const { clock, ends } = handClock();
    const queue = makeQueue(clock);
    const done: string[] = [];
    queue.after(10, () => done.push('later'));
    queue.after(0, () => done.push('now'));
    expect(done).toEqual(['now']);
    ends[0]?.();
    await settled();
    expect(done).toEqual(['now', 'later']);
  });

  it('is not done once closed, nor is anything else', async () => {
    const { clock, ends } = handClock();
    const queue = makeQueue(clock);
    const done: string[] = [];
    queue.after(10, () => done.push('waiting'));
    queue.close();
    queue.after(0, () => done.push('after'));
    ends[0]?.();
    await settled();
    expect(done).toEqual([]);
  });

  it('goes at once where 20 000 wait already', async () => {
    const { clock, ends } = handClock();
    const queue = makeQueue(clock);
    let done = 0;
    for (let n = 0; n < 20_003; n++) queue.after(10, () => done++);
    expect([done, ends.length]).toEqual([3, 20_000]);
    ends[0]?.();
    await settled();
    queue.after(10, () => done++);
    expect([done, ends.length]).toEqual([4, 20_001]);
  });
});
