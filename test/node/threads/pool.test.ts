import { describe, expect, it } from 'vitest';
import { runOnThreads } from '../../../src/node/threads/pool.js';

/** A thread's module: what it does with a job before the answer. */
const module = (work: string): URL =>
  new URL(
    `data:text/javascript,${encodeURIComponent(`
import { parentPort, threadId } from 'node:worker_threads';
import { setTimeout } from 'node:timers/promises';
parentPort.on('message', async (job) => { ${work} });
`)}`,
  );

/** Later jobs answer sooner. */
const doubled = module(
  'await setTimeout(40 - 4 * job); parentPort.postMessage({ job, twice: 2 * job, threadId });',
);

interface Doubled {
  readonly job: number;
  readonly twice: number;
  readonly threadId: number;
}

const jobs = Array.from({ length: 9 }, (_, index) => index);

describe('jobs on threads', () => {
  it.each([
    [1, 1],
    [3, 3],
    [50, 9],
  ])('on %i at most, come back in the order they were given, from %i', async (threads, used) => {
    const begun: number[] = [];
    const results = await runOnThreads<number, Doubled>(doubled, jobs, {
      threads,
      onBegin: (job) => begun.push(job),
    });
    expect(results.map(({ job, twice }) => [job, twice])).toEqual(jobs.map((job) => [job, 2 * job]));
    expect(begun).toEqual(jobs);
    expect(new Set(results.map(({ threadId }) => threadId)).size).toBe(used);
  });

  it('that are none need no thread', async () => {
    expect(await runOnThreads(new URL('file:///nowhere.mjs'), [], { threads: 4 })).toEqual([]);
  });

  it.each([
    ['throws', "throw new Error('a job went wrong');", 'a job went wrong'],
    ['ends its thread', 'process.exit(0);', 'a thread ended by itself, with 0, at job 0'],
  ])('one that %s is a fault', async (_, work, message) => {
    await expect(runOnThreads(module(work), jobs, { threads: 1 })).rejects.toThrow(message);
  });

  it('on a module that is not there are a fault', async () => {
    await expect(runOnThreads(new URL('file:///nowhere/at/all.mjs'), jobs, { threads: 2 })).rejects.toThrow(
      'all.mjs',
    );
  });
});
