import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeGuard } from '../../src/fitting/make-guard.js';
import { nearest } from '../../src/fitting/nearest.js';
import { protect } from '../../src/fitting/protect/protect.js';
import type { DeskSlot } from '../../src/model/desk.js';
import type { Intent } from '../../src/model/intent.js';
import { knobNames, knobs } from '../../src/model/knob.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { protectiveIntents } from '../../src/model/protection.js';
import type { Band } from '../../src/model/recipe.js';
import type { FmStereoSystem, Rig } from '../../src/model/rig.js';
import { guardScope } from '../../src/multiplex/guard-scope.js';
import { stepOf } from '../../src/quantisers/snap.js';
import { hz } from '../../src/units/quantity.js';
import { shipped } from '../targets/shipped.js';
import { type Case, cases } from './protect/cases.js';

/** Rounding. */
const equalDb = 1e-9;

const moves = ({ role }: Intent): boolean => role === 'pilot-cut' || role === 'high-cut';

const worstOf = (bands: readonly Band[], { target, scope }: Case) =>
  makeGuard(bands, target.realisations, scope).worst;

const expectOnGrid = ({ type, set, steps, slot }: Band, slots: readonly DeskSlot[]): void => {
  const grids = slots.find(({ id }) => id === slot)?.types.get(type)?.grids;
  for (const knob of knobNames) {
    const grid = grids?.[knob];
    const value = set[knobs[knob].value];
    if (!grid) expect(value).toBeUndefined();
    else expect(stepOf(grid, value ?? Number.NaN)).toBe(steps[knob]?.index);
  }
};

/** Everything that holds of a protective fit beside that of nearest. */
const expectSound = (each: Case): void => {
  const { intents, context, scope } = each;
  const plain = nearest.fit(intents, context);
  const { bands, shortcomings } = protect.fit(intents, context);
  const [worst, plainWorst] = [worstOf(bands, each), worstOf(plain.bands, each)];
  const fixedBands = plain.bands.filter(({ asked }) => !moves(asked));
  const fixedRiseDb = worstOf(fixedBands, each).riseDb;

  // Never worse than nearest at its own game.
  const keeps = plainWorst.keepLossDb <= scope.keepLossAtMostDb && plainWorst.riseDb <= scope.riseAtMostDb;
  if (keeps) {
    expect(worst.pilotAttenuationDb).toBeGreaterThanOrEqual(plainWorst.pilotAttenuationDb - equalDb);
  }

  // Limits hold, or it is told which would.
  expect(worst.riseDb).toBeLessThanOrEqual(Math.max(scope.riseAtMostDb, fixedRiseDb) + equalDb);
  const told = shortcomings.find((shortcoming) => shortcoming.kind === 'keep-limit');
  // Where it placed nothing there was nothing to keep within a limit: what the others take stands in the guard.
  const hasPlaced = bands.some(({ asked }) => moves(asked));
  if (!told) {
    if (hasPlaced) expect(worst.keepLossDb).toBeLessThanOrEqual(scope.keepLossAtMostDb + equalDb);
  } else {
    expect(told.leastDb).toBeGreaterThan(scope.keepLossAtMostDb);
    if (told.othersDb === null) expect(worst.keepLossDb).toBeLessThanOrEqual((told.leastDb ?? 0) + equalDb);
  }

  // What does not move stays; what moves only takes away, on slots of its own that were free.
  expect(bands.filter(({ asked }) => !moves(asked))).toEqual(fixedBands);
  for (const { asked, set } of bands) if (moves(asked)) expect(set.gainDb ?? 0).toBeLessThanOrEqual(0);
  const used = bands.map(({ slot }) => slot);
  expect(new Set(used).size).toBe(used.length);
  expect(context.slots.map(({ id }) => id)).toEqual(expect.arrayContaining(used));
  for (const band of bands) expectOnGrid(band, context.slots);

  // Every intent is served or told of, and no more slots are spent than were spared.
  for (const intent of intents) {
    const isServed = bands.some(({ asked }) => asked === intent);
    const isTold = shortcomings.some(({ kind, intent: about }) => kind === 'no-place' && about === intent);
    expect(isServed).toBe(!isTold);
  }
  expect(bands.length).toBeLessThanOrEqual(intents.length + context.spareSlots);
};

const someSlots = cases.chain((each) =>
  fc.subarray([...each.context.slots]).map((slots) => ({ ...each, context: { ...each.context, slots } })),
);

const rig = JSON.parse(readFileSync(new URL('../../src/cli/demo-rig.json', import.meta.url), 'utf8')) as Rig;

const systems = Object.entries(rig.systems).filter(
  (entry): entry is [string, FmStereoSystem] => entry[1].link === 'fm-stereo',
);

const shippedCases = [...shipped].flatMap(([file, target]) =>
  systems.map(([id, system]) => ({ name: `${id} on ${file}`, target, system })),
);

describe('protect beside nearest', () => {
  it('is never worse within the limits, breaks none untold and touches nothing else, on any small desk', () => {
    fc.assert(fc.property(cases, expectSound), { numRuns: 200 });
  });

  it('uses only the slots that are free', () => {
    fc.assert(fc.property(someSlots, expectSound), { numRuns: 150 });
  });

  it.each(shippedCases)('holds for $name', ({ target, system }) => {
    const desk = makeDesk(target);
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const intents = protectiveIntents(system, rig);
    const { preEmphasisMicroseconds } = system;
    const scope = guardScope(
      system.pilotHz ?? hz(19000),
      preEmphasisMicroseconds === undefined ? {} : { preEmphasisMicroseconds },
    );
    const context = { desk: desk.value, slots: desk.value.slots, scope, spareSlots: 0 };
    expectSound({ target, intents, scope, context });
  });
});
