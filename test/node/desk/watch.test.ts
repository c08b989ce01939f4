import { setTimeout } from 'node:timers/promises';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { Outcome } from '../../../src/model/problem.js';
import { type ToldEvent, type WatchOptions, watch } from '../../../src/node/desk/watch.js';
import { startStandin } from '../../../src/node/standin/start-standin.js';
import { recipeOn, rig, shippedDesk } from '../../live/recipe-on.js';

/* The library's watch, over real sockets against a stand-in: what it is told, when it ends, what it refuses. */

const names = new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name])));

const rehearsal = async (id = 'log-179', outputNames = names) => {
  const desk = await shippedDesk(id);
  const counted = new Map<string, number>();
  const standin = await startStandin({
    desk,
    kind: 'udp',
    port: 0,
    bind: '127.0.0.1',
    outputs: { names: outputNames },
    onEvent: ({ event }) => counted.set(event, (counted.get(event) ?? 0) + 1),
  });
  if (!standin.ok) throw new Error(JSON.stringify(standin.error));
  onTestFinished(() => standin.value.close());
  const told: ToldEvent[] = [];
  const options: WatchOptions = {
    to: `127.0.0.1:${standin.value.port}`,
    recipe: recipeOn(desk),
    everyMs: 1000,
    onEvent: (event) => told.push(event),
  };
  return { desk, options, told, counted };
};

const codesOf = (outcome: Outcome<unknown>): readonly string[] =>
  outcome.ok ? [] : outcome.error.map(({ code }) => code);

describe('watch of the library', () => {
  it('tells what is watched and how it stands, goes on until its signal is given, and only asks', async () => {
    const { options, told, counted } = await rehearsal();
    const ending = new AbortController();
    const rounds: number[] = [];
    const watching = watch({ ...options, signal: ending.signal, onRound: (round) => rounds.push(round) });
    await setTimeout(4000);
    ending.abort();
    const done = await watching;
    if (!done.ok) throw new Error(JSON.stringify(done.error));
    // A stand-in begins flat, so that no mix stands as set.
    expect(told.map(({ event }) => event)).toEqual(['started', 'found', 'found', 'first-round']);
    expect(told[0]).toMatchObject({
      target: 'log-179',
      mixes: [{ name: 'Heron', outputs: [1, 2] }, { name: 'Lark' }],
      otherNames: [],
    });
    expect(done.value).toMatchObject({ purpose: 'watch', result: 'falls-short', silences: 0 });
    expect(rounds.slice(0, 2)).toEqual([1, 2]);
    expect([...counted.keys()]).toEqual(['read']);
    // Fifty a second at most, and one more in a second that begins just after one was sent late.
    expect(counted.get('read')).toBeLessThan(51 * 5);
  });

  it('watches the mixes that are named, tells of other names, and ends after its time', async () => {
    const { options, told } = await rehearsal('log-179', new Map([[5, 'Kick']]));
    const done = await watch({ ...options, only: ['Lark'], forMs: 1500 });
    expect(done.ok && done.value.mixes.map(({ name }) => name)).toEqual(['Lark']);
    expect(told[0]).toMatchObject({ otherNames: [{ mix: 'Lark', output: 5, name: 'Kick' }] });
  });

  it.each<[string, Partial<WatchOptions>, string]>([
    ['more messages a second than a desk has to bear', { ratePerSecond: 51 }, 'ratePerSecond'],
    ['no rate at all', { ratePerSecond: 0 }, 'ratePerSecond'],
    ['rounds of less than a second', { everyMs: 999 }, 'everyMs'],
    ['rounds that are no time', { everyMs: Number.NaN }, 'everyMs'],
    ['no time to watch', { forMs: 0 }, 'forMs'],
    ['more time than a timer knows', { forMs: 2 ** 31 }, 'forMs'],
  ])('refuses %s, and asks nothing', async (_, asked, path) => {
    const { options, counted } = await rehearsal();
    const done = await watch({ ...options, ...asked });
    expect(done.ok ? [] : done.error).toMatchObject([{ code: 'usage', path }]);
    expect(counted.size).toBe(0);
  });

  it('refuses a recipe that leaves every mix alone', async () => {
    const { desk, options, counted } = await rehearsal();
    const wired = rig.mixes.filter(({ feeds }) => feeds === 'cable');
    const done = await watch({ ...options, recipe: recipeOn(desk, { ...rig, mixes: wired }) });
    expect(codesOf(done)).toEqual(['nothing-to-watch']);
    expect(counted.size).toBe(0);
  });

  it('is interrupted before anything was read without a word on how it stands', async () => {
    const { options, told } = await rehearsal();
    const done = await watch({ ...options, signal: AbortSignal.abort() });
    expect(codesOf(done)).toEqual(['interrupted']);
    expect(told).toEqual([]);
  });
});
