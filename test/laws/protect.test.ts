import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { protect } from '../../src/fitting/protect/protect.js';
import type { PlacedFilter } from '../../src/model/recipe.js';
import { makeGuard } from '../../src/recipes/make-guard.js';
import { db } from '../../src/units/quantity.js';
import { type Case, cases, withScope } from './protect/cases.js';
import { equalDb, exhaust, type Setting, settingCount } from './protect/exhaustive.js';

/** More settings than these would take plain search too long. */
const mostSettings = 6000;

const smallCases = cases.filter((each) => settingCount(each) <= mostSettings);

const runsOf = (runs: number): number => Number(process.env.RUNS ?? runs);

/** Guard bands by the trapezoidal rule here and by Simpson's there differ by less. */
const equalBandDb = 1e-4;

const expectSame = (filters: readonly PlacedFilter[], setting: Setting, { target, context }: Case): void => {
  if (!context.guard) throw new Error('no guard');
  const { worst } = makeGuard(filters, target.realisations, context.guard);
  expect(Math.abs(worst.pilotAttenuationDb - setting.attenuationDb)).toBeLessThan(equalDb);
  expect(Math.abs(worst.guardBandDb - setting.guardBandDb())).toBeLessThan(equalBandDb);
};

/** Less apart in both figures is not worth telling a person. */
const worthTellingDb = 0.05;

const isWorthTelling = (a: Setting, b: Setting): boolean =>
  Math.abs(a.attenuationDb - b.attenuationDb) >= worthTellingDb ||
  Math.abs(a.lossDb - b.lossDb) >= worthTellingDb;

const onlyToReach = (each: Case): Case => {
  const { guard } = each.context;
  if (!guard) throw new Error('no guard');
  const lossLimits = { ...guard.lossLimits, isOnlyToReach: true };
  return { ...each, context: { ...each.context, guard: { ...guard, lossLimits } } };
};

/** Holds a fit against plain search; which stage it ended in. */
const compare = (each: Case): string => {
  const exhausted = exhaust(each);
  if (!exhausted) throw new Error('not even nothing holds');
  const { chosen, gentler, stronger } = exhausted;
  const { filters, unproved, alternative } = protect.fit(each.intents, each.context);
  expect(unproved).toBeUndefined();
  const other = gentler ?? stronger;
  expectSame(filters, chosen, each);
  if (other && isWorthTelling(other, chosen)) {
    expect(alternative?.kind).toBe(gentler ? 'gentler' : 'stronger');
    expectSame(alternative?.filters ?? [], other, each);
  } else {
    expect(alternative).toBeNull();
  }
  const reached = chosen.attenuationDb >= each.scope.pilotAttenuationAtLeastDb - equalDb;
  if (each.scope.isKeepLossStated) return 'stated';
  if (!gentler) return 'usual';
  return reached ? 'stretched' : 'short';
};

describe('protect chooses what plain exhaustive search chooses', () => {
  it.each([
    {
      name: 'with one or two slots to spare',
      arbitrary: smallCases.filter(({ context }) => context.spareSlots > 0),
      runs: 20,
    },
    {
      name: 'with notches, which a look at points may miss',
      arbitrary: smallCases.filter(({ target }) => target.slots.some(({ types }) => types.notch)),
      runs: 20,
    },
    {
      name: 'with high cuts that resonate',
      arbitrary: smallCases.filter(({ target }) => target.slots.some(({ types }) => types.lowpass?.q)),
      runs: 20,
    },
    {
      name: 'with high shelves beside high cuts, or alone',
      arbitrary: smallCases.filter(({ target: { slots } }) => slots.some(({ types }) => types.highshelf)),
      runs: 34,
    },
    {
      name: 'within a tight limit',
      arbitrary: smallCases.map((each) =>
        withScope(each, { keepLossAtMostDb: db(0.3), isKeepLossStated: true }),
      ),
      runs: 20,
    },
    {
      name: 'with the least loss, where it is spent only to reach what is asked',
      arbitrary: smallCases.map((each) => onlyToReach(withScope(each, { isKeepLossStated: true }))),
      runs: 20,
    },
  ])('$name', ({ arbitrary, runs }) => {
    fc.assert(
      fc.property(arbitrary, (each) => {
        compare(each);
      }),
      { numRuns: runsOf(runs) },
    );
  });

  it('whatever the desk and the wishes, in every stage', () => {
    const stages = new Map<string, number>();
    fc.assert(
      fc.property(smallCases, (each) => {
        const stage = compare(each);
        stages.set(stage, (stages.get(stage) ?? 0) + 1);
      }),
      { numRuns: runsOf(100) },
    );
    for (const stage of ['usual', 'stretched', 'short', 'stated'])
      expect(stages.get(stage)).toBeGreaterThan(3);
  });
});
