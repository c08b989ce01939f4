import { describe, expect, it } from 'vitest';
import {
  type Tradeoff,
  type TradeoffContext,
  tradeoff,
  usualLossLimitsDb,
} from '../../src/analysis/tradeoff.js';
import type { FitContext } from '../../src/fitting/fit.js';
import { guardTask } from '../../src/fitting/guard-task.js';
import { nearest } from '../../src/fitting/nearest/nearest.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { protectiveIntents, usualSystem } from '../../src/model/protection.js';
import type { PlacedFilter } from '../../src/model/recipe.js';
import { makeGuard } from '../../src/recipes/make-guard.js';
import { db, hz } from '../../src/units/quantity.js';
import { shipped } from '../targets/shipped.js';

const intents = protectiveIntents(usualSystem);
const roundingDb = 1e-9;

const contextOf = (file: string): TradeoffContext => {
  const target = shipped.get(file);
  if (!target) throw new Error(`no target ${file}`);
  const desk = makeDesk(target);
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return { desk: desk.value, slots: desk.value.slots, scope: guardScope(hz(19000)), spareSlots: 0 };
};

const worstOf = (filters: readonly PlacedFilter[], { desk, scope }: TradeoffContext) =>
  makeGuard(filters, desk.target.realisations, guardTask([], desk.target.realisations, scope)).worst;

/** The context of a fit held to a limit. */
const heldTo = (limitDb: number, { scope, ...context }: TradeoffContext): FitContext => ({
  ...context,
  guard: guardTask(intents, context.desk.target.realisations, {
    ...scope,
    keepLossAtMostDb: db(limitDb),
    isKeepLossStated: true,
  }),
});

// Desks whose every step is looked at, nearest's own among them.
const files = [
  'cut-section.json',
  'octave-24.json',
  'octave-6.json',
  'log-179.json',
  'lr-24.xml',
  'two-legs.json',
];
const found = new Map<string, Tradeoff>();
const tradeoffOf = (file: string): Tradeoff => {
  const known = found.get(file) ?? tradeoff(intents, contextOf(file));
  found.set(file, known);
  return known;
};

describe.each(files)('the frontier of %s', (file) => {
  const context = contextOf(file);
  const { frontier, nearest: plain, asked } = tradeoffOf(file);

  it('buys more attenuation with every looser limit, and keeps each', () => {
    expect(frontier.length).toBeGreaterThan(3);
    frontier.forEach(({ keepLossAtMostDb, keepLossDb, pilotAttenuationDb }, index) => {
      const before = frontier[index - 1];
      expect(keepLossDb).toBeLessThanOrEqual(keepLossAtMostDb + roundingDb);
      if (!before) return;
      expect(keepLossAtMostDb).toBeGreaterThan(before.keepLossAtMostDb);
      expect(pilotAttenuationDb).toBeGreaterThan(before.pilotAttenuationDb);
    });
  });

  it('is at each limit what protect chooses within it', () => {
    // Every third, and the loosest: a fit for each of them takes as long as the whole frontier.
    const some = frontier.filter((point, index) => index % 3 === 0 || point === frontier.at(-1));
    for (const { keepLossAtMostDb, keepLossDb, pilotAttenuationDb, filters } of some) {
      const outcome = protect.fit(intents, heldTo(keepLossAtMostDb, context));
      expect(filters).toEqual(outcome.filters);
      expect({ keepLossDb, pilotAttenuationDb }).toEqual({
        keepLossDb: worstOf(outcome.filters, context).keepLossDb,
        pilotAttenuationDb: worstOf(outcome.filters, context).pilotAttenuationDb,
      });
    }
  });

  it('has nearest on it or below it', () => {
    expect(plain.filters).toEqual(nearest.fit(intents, heldTo(1, context)).filters);
    expect(plain).toMatchObject({
      keepLossDb: worstOf(plain.filters, context).keepLossDb,
      pilotAttenuationDb: worstOf(plain.filters, context).pilotAttenuationDb,
    });
    const best = frontier.findLast(({ keepLossAtMostDb }) => keepLossAtMostDb <= plain.keepLossDb);
    expect(best?.pilotAttenuationDb).toBeGreaterThanOrEqual(plain.pilotAttenuationDb - roundingDb);
  });

  it('tells the least loss that reaches what is asked, on the frontier or between two of its points', () => {
    const { pilotAttenuationDb: askedDb, reached } = asked;
    expect(askedDb).toBe(context.scope.pilotAttenuationAtLeastDb);
    const enough = frontier.find(({ pilotAttenuationDb }) => pilotAttenuationDb >= askedDb - roundingDb);
    if (!enough) {
      expect(reached).toBeNull();
      return;
    }
    expect(reached?.pilotAttenuationDb).toBeGreaterThanOrEqual(askedDb - roundingDb);
    expect(reached?.keepLossDb).toBeLessThanOrEqual(enough.keepLossDb + roundingDb);
    const before = frontier[frontier.indexOf(enough) - 1];
    if (before) expect(reached?.keepLossDb).toBeGreaterThan(before.keepLossAtMostDb);
  });
});

// By the definition of the least: a limit just below it leaves nothing that reaches, unless the low cut alone takes as much.
it.each(['cut-section.json', 'octave-6.json', 'lr-24.xml'])(
  'spends on %s no more than little attenuation takes, however much more a little more would buy',
  (file) => {
    const context = contextOf(file);
    const scope = { ...context.scope, pilotAttenuationAtLeastDb: db(3) };
    const { asked } = tradeoff(intents, { ...context, scope });
    const { filters = [], keepLossDb = db(Infinity), pilotAttenuationDb = db(0) } = asked.reached ?? {};
    expect(pilotAttenuationDb).toBeGreaterThanOrEqual(3 - roundingDb);
    expect(keepLossDb).toBeLessThan(tradeoffOf(file).frontier[0]?.keepLossDb ?? 0);
    const lowCutDb = worstOf(
      filters.filter(({ role }) => role === 'low-cut'),
      context,
    ).keepLossDb;
    const tighter = protect.fit(intents, heldTo(Math.max(lowCutDb, keepLossDb - 1e-6), context));
    const reached = worstOf(tighter.filters, context).pilotAttenuationDb >= 3;
    expect(reached).toBe(keepLossDb <= lowCutDb + roundingDb);
  },
);

it('ends where nothing takes anything out at the pilot', () => {
  const { frontier, unmetLimitDb } = tradeoff(intents, { ...contextOf('cut-section.json'), slots: [] });
  expect(unmetLimitDb).toBe(usualLossLimitsDb.at(-1));
  expect(frontier).toEqual([]);
});
