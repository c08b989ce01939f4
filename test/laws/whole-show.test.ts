import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { MixReport } from '../../src/live/write/report.js';
import type { Desk } from '../../src/model/desk.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { StandinState } from '../../src/standin/snapshot.js';
import { db, hz, q } from '../../src/units/quantity.js';
import { shownBy } from '../end-to-end/live/rehearsal.js';
import { recipeOn, rig, shippedDesk } from '../live/recipe-on.js';
import { type Mishaps, makeWorld, type RunDone, type World } from './show/world.js';

/*
 * A whole show, as a state machine: pushes and restores of a desk on which hands turn dials, over a network that loses and
 * doubles packets, interrupted, killed, the desk falling silent, in any order. Whatever happens, no address outside is
 * written to, nothing is written before what stood there is kept, a report is true of the desk at its time, and journals,
 * put back from the last to the first, bring back the first state. What is true is read off the desk's own snapshot.
 */

/** As many outputs as the show has. */
const desk: Desk = await shippedDesk('log-179', (target) => ({
  ...target,
  outputs: { ...target.outputs, count: 8 },
}));

const cut = (frequencyHz: number, gainDb: number) =>
  ({
    role: 'pilot-cut',
    type: 'peaking',
    frequencyHz: hz(frequencyHz),
    q: q(8),
    gainDb: db(gainDb),
  }) as const;

const mixes = rig.mixes.filter(({ name }) => name !== 'Choir');
const recipes: readonly Recipe[] = [
  recipeOn(desk, { ...rig, mixes, intents: [cut(19000, -15)] }),
  recipeOn(desk, { ...rig, mixes, intents: [cut(18900, -6)] }),
];

/** What the show's outputs are called. */
const rightNames = new Map(
  rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name] as const)),
);

/** The outputs that may be written to: the first leg of a pair that shares, and a mono mix. */
const guarded = [1, 5];
const outputOf = (address: string): number => Number(/^\/mix\/(\d+)\//.exec(address)?.[1]);

/** Everything a report says of the desk that is not so. */
const untrue = (
  reports: readonly MixReport[],
  now: StandinState,
  written: readonly string[],
): readonly string[] =>
  reports.flatMap(({ name, state, values }) =>
    values.flatMap((value) => {
      const stands = shownBy(now, value, desk);
      const claims = [
        state === 'applied' || state === 'unchanged' ? value.set : null,
        state === 'put-back' ? value.found : null,
        value.state === 'held' || value.state === 'differs' ? value.read : null,
      ].filter((claim) => claim !== null);
      const isWrong = claims.some((claim) => claim !== stands);
      const isTouched = value.state === 'untouched' && written.includes(value.address);
      return isWrong || isTouched
        ? [`${name} ${value.address}: ${state}, ${value.state}, said ${claims.join(' and ')}, is ${stands}`]
        : [];
    }),
  );

/** What to expect follows from the desk itself: there is nothing to remember besides. */
type Model = Record<never, never>;

/** How much of what is to be shown was there to be seen. */
const counts = { sequences: 0, restored: 0, quiet: 0 };

/** A run of which nothing goes wrong by itself. */
const isQuiet = ({ lossPercent, interruptAt, handAt, silentAt, renameAt }: Mishaps): boolean =>
  lossPercent === 0 && interruptAt === null && handAt === null && silentAt === null && renameAt === null;

const check = (
  world: World,
  { done, journal, written, writtenAfterRename, keptFirst }: RunDone,
  each: Mishaps,
): void => {
  expect(written.filter((address) => !guarded.includes(outputOf(address)))).toEqual([]);
  expect(keptFirst).toBe(true);
  if (journal === null) expect(written).toEqual([]);
  // What was on its way, and the mix under work; no other is begun.
  expect(new Set(writtenAfterRename.map(outputOf)).size).toBeLessThanOrEqual(1);
  if (!done) return;
  expect(untrue(done.reports, world.standin.snapshot(), written)).toEqual([]);
  if (journal) expect(journal.outcome).not.toBeNull();
  if (done.result === 'done') expect(done.problems).toEqual([]);
  if (!isQuiet(each)) return;
  counts.quiet++;
  expect(done.result).toBe('done');
};

class Push implements fc.AsyncCommand<Model, World> {
  constructor(
    readonly which: number,
    readonly mishaps: Mishaps,
  ) {}
  check = () => true;
  async run(_: Model, world: World): Promise<void> {
    check(world, await world.run(recipes[this.which] as Recipe, this.mishaps), this.mishaps);
  }
  toString = () => `push ${this.which} ${JSON.stringify(this.mishaps)}`;
}

class Restore implements fc.AsyncCommand<Model, World> {
  constructor(
    readonly which: number,
    readonly mishaps: Mishaps,
  ) {}
  check = () => true;
  async run(_: Model, world: World): Promise<void> {
    const journal = world.journals.at(-1 - (this.which % Math.max(1, world.journals.length)));
    if (journal) check(world, await world.run(journal, this.mishaps), this.mishaps);
  }
  toString = () => `restore ${this.which} ${JSON.stringify(this.mishaps)}`;
}

class Hand implements fc.AsyncCommand<Model, World> {
  constructor(readonly seed: number) {}
  check = () => true;
  async run(_: Model, world: World): Promise<void> {
    world.hand(this.seed);
  }
  toString = () => `hand ${this.seed}`;
}

/** Null but for one in so many. */
const seldom = (one: number, most: number) =>
  fc.oneof(
    { weight: one - 1, arbitrary: fc.constant(null) },
    { weight: 1, arbitrary: fc.integer({ min: 1, max: most }) },
  );

const mishaps: fc.Arbitrary<Mishaps> = fc.record({
  seed: fc.nat(1e6),
  lossPercent: fc.constantFrom(0, 0, 0, 10, 30),
  duplicatePercent: fc.constantFrom(0, 0, 10),
  interruptAt: seldom(6, 100),
  insistAfter: seldom(3, 10),
  killAt: seldom(6, 120),
  handAt: seldom(10, 30),
  silentAt: seldom(10, 120),
  renameAt: seldom(10, 30),
});

const quiet: Mishaps = {
  seed: 0,
  lossPercent: 0,
  duplicatePercent: 0,
  interruptAt: null,
  insistAfter: null,
  killAt: null,
  handAt: null,
  silentAt: null,
  renameAt: null,
};

/** How the guarded outputs stand. */
const standing = ({ filters }: StandinState) =>
  filters.filter(({ outputs }) => guarded.some((output) => outputs.includes(output)));

/** Every journal put back, the last first, on a quiet day. */
const putAllBack = async (world: World): Promise<void> => {
  const journals = world.journals.toReversed();
  for (const journal of journals) {
    const { done } = await world.run(journal, quiet);
    expect(done?.result).toBe('done');
  }
};

const sequences = Number(process.env.RUNS ?? 2000);

it('whatever happens in a show, reports are true, nobody else is touched, and all of it can be put back', async () => {
  const commands = fc.commands(
    [
      fc.tuple(fc.nat(1), mishaps).map(([which, each]) => new Push(which, each)),
      fc.tuple(fc.nat(1), mishaps).map(([which, each]) => new Push(which, each)),
      fc.tuple(fc.nat(3), mishaps).map(([which, each]) => new Restore(which, each)),
      fc.nat(1e6).map((seed) => new Hand(seed)),
    ],
    { maxCommands: 4 },
  );
  await fc.assert(
    fc.asyncProperty(fc.nat(1e6), commands, async (seed, all) => {
      const world = makeWorld(desk, seed, guarded, rightNames);
      const first = world.standin.snapshot();
      await fc.asyncModelRun(() => ({ model: {}, real: world }), all);
      const hands = world.hands;
      await putAllBack(world);
      counts.sequences++;
      if (hands === 0 && world.journals.length > 0) counts.restored++;
      if (hands === 0) expect(standing(world.standin.snapshot())).toEqual(standing(first));
      // Whatever was done, the mixes that are none of a recipe's stand as they stood.
      const others = ({ filters }: StandinState) =>
        filters.filter(({ outputs }) => !guarded.some((output) => outputs.includes(output)));
      expect(others(world.standin.snapshot())).toEqual(others(first));
    }),
    { numRuns: sequences },
  );
  // Laws that hold of nothing hold.
  expect(counts.restored).toBeGreaterThan(counts.sequences / 8);
  expect(counts.quiet).toBeGreaterThan(counts.sequences / 8);
});
