import { expect } from 'vitest';
import type { FitOutcome } from '../../../src/fitting/fit.js';
import { nearest } from '../../../src/fitting/nearest/nearest.js';
import type { DeskSlot } from '../../../src/model/desk.js';
import type { Intent } from '../../../src/model/intent.js';
import { knobNames, knobs } from '../../../src/model/knob.js';
import type { PlacedFilter } from '../../../src/model/recipe.js';
import { stepOf } from '../../../src/quantisers/snap.js';
import { makeGuard } from '../../../src/recipes/make-guard.js';
import { centsBetween } from '../../../src/units/quantity.js';
import type { Case } from './cases.js';

/** What a protective fit chose for a case, and the very intents it tells of. */
export interface Fitted extends Pick<FitOutcome, 'filters' | 'shortcomings'> {
  readonly intents: Case['intents'];
}

/** Rounding. */
export const equalDb = 1e-9;

const isMoved = ({ role, mayMove }: Intent): boolean =>
  mayMove === true && (role === 'pilot-cut' || role === 'high-cut');

export const worstOf = (filters: readonly PlacedFilter[], { target, context }: Case) => {
  if (!context.guard) throw new Error('no guard');
  return makeGuard(filters, target.realisations, context.guard).worst;
};

export const askedDb = ({ scope }: Case): number => scope.pilotAttenuationAtLeastDb - equalDb;

/** Whether nothing a person wrote is in the way, and figures are those of derived filters alone. */
export const isDerivedOnly = ({ intents }: Case): boolean => intents.every(({ mayMove }) => mayMove);

const expectOnGrid = ({ type, set, steps, slot }: PlacedFilter, slots: readonly DeskSlot[]): void => {
  const grids = slots.find(({ id }) => id === slot)?.types.get(type)?.grids;
  for (const knob of knobNames) {
    const grid = grids?.[knob];
    const value = set[knobs[knob].value];
    if (!grid) expect(value).toBeUndefined();
    else expect(stepOf(grid, value ?? Number.NaN)).toBe(steps[knob]?.index);
  }
};

/** What holds of any protective fit. */
export const expectSound = (each: Case, fitted: Fitted): void => {
  const { context, scope } = each;
  const { intents, filters, shortcomings } = fitted;
  const worst = worstOf(filters, each);
  const plain = nearest.fit(intents, context);
  const fixedFilters = plain.filters.filter(({ asked }) => !isMoved(asked));
  const fixed = worstOf(fixedFilters, each);
  const limitDb = context.guard?.lossLimits.mostDb ?? 0;

  // Limits hold, but for what the filters that stay take or raise by themselves.
  expect(worst.riseDb).toBeLessThanOrEqual(Math.max(scope.riseAtMostDb, fixed.riseDb) + equalDb);
  if (fixed.keepLossDb <= (context.guard?.lossLimits.usualDb ?? 0)) {
    expect(worst.keepLossDb).toBeLessThanOrEqual(limitDb + equalDb);
  } else {
    expect(worst.keepLossDb).toBeLessThanOrEqual(fixed.keepLossDb + limitDb + equalDb);
  }

  // What a person wrote stays at its nearest steps; what moves cuts, within a third of an octave, on slots of its own.
  // A derived low cut guards no pilot, and gives way.
  const isHeld = ({ asked, role }: PlacedFilter): boolean =>
    !isMoved(asked) && role === asked.role && !(role === 'low-cut' && asked.mayMove);
  expect(filters.filter(isHeld)).toEqual(fixedFilters.filter(isHeld));
  for (const { asked, set } of filters) {
    expect(Math.abs(centsBetween(asked.frequencyHz, set.frequencyHz))).toBeLessThanOrEqual(400 + 1e-6);
    if (isMoved(asked) && set.gainDb !== undefined) expect(set.gainDb).toBeLessThan(-0.04);
  }
  const used = filters.map(({ slot }) => slot);
  expect(new Set(used).size).toBe(used.length);
  expect(context.slots.map(({ id }) => id)).toEqual(expect.arrayContaining(used));
  for (const placed of filters) expectOnGrid(placed, context.slots);

  // Every intent is served or told of, and no more slots are spent than were spared.
  for (const intent of intents) {
    const isServed = filters.some(({ asked }) => asked === intent);
    const isTold = shortcomings.some(
      ({ kind, intent: about }) => (kind === 'no-place' || kind === 'left-out') && about === intent,
    );
    expect(isServed).toBe(!isTold);
  }
  expect(filters.length).toBeLessThanOrEqual(intents.length + context.spareSlots);
};

/** By hand nothing is had that the fit does not have, or better for no more loss. */
export const expectNotWorseThanByHand = (each: Case, fitted: () => Fitted): void => {
  if (!each.context.guard || !isDerivedOnly(each)) return;
  const { lossLimits, scope } = each.context.guard;
  const byHand = worstOf(nearest.fit(each.intents, each.context).filters, each);
  if (byHand.keepLossDb > lossLimits.mostDb + equalDb || byHand.riseDb > scope.riseAtMostDb) return;
  const worst = worstOf(fitted().filters, each);
  const isMet = worst.pilotAttenuationDb >= askedDb(each);
  const isMetForNoMore = isMet && worst.keepLossDb <= byHand.keepLossDb + equalDb;
  if (!isMetForNoMore) {
    expect(worst.pilotAttenuationDb).toBeGreaterThanOrEqual(byHand.pilotAttenuationDb - equalDb);
  }
  if (byHand.pilotAttenuationDb >= askedDb(each)) expect(isMet).toBe(true);
};
