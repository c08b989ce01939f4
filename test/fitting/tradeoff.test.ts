import { describe, expect, it } from 'vitest';
import { makeGuard } from '../../src/fitting/make-guard.js';
import { nearest } from '../../src/fitting/nearest.js';
import { protect } from '../../src/fitting/protect/protect.js';
import {
  type Tradeoff,
  type TradeoffContext,
  tradeoff,
  usualLossLimitsDb,
} from '../../src/fitting/tradeoff.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { protectiveIntents, usualSystem } from '../../src/model/protection.js';
import type { Band } from '../../src/model/recipe.js';
import { guardScope } from '../../src/multiplex/guard-scope.js';
import { hz } from '../../src/units/quantity.js';
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

const worstOf = (bands: readonly Band[], { desk, scope }: TradeoffContext) =>
  makeGuard(bands, desk.target.realisations, scope).worst;

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
  const { frontier, nearest: plain, unmetLimitDb } = tradeoffOf(file);

  it('buys more attenuation with every looser limit, and keeps each', () => {
    expect(frontier.length).toBeGreaterThan(3);
    frontier.forEach(({ keepLossLimitDb, keepLossDb, pilotAttenuationDb }, index) => {
      const before = frontier[index - 1];
      expect(keepLossDb).toBeLessThanOrEqual(keepLossLimitDb + roundingDb);
      if (!before) return;
      expect(keepLossLimitDb).toBeGreaterThan(before.keepLossLimitDb);
      expect(pilotAttenuationDb).toBeGreaterThan(before.pilotAttenuationDb);
    });
  });

  it('is at each limit what protect chooses within it', () => {
    for (const { keepLossLimitDb, keepLossDb, pilotAttenuationDb, bands } of frontier) {
      const scope = { ...context.scope, keepLossAtMostDb: keepLossLimitDb };
      const outcome = protect.fit(intents, { ...context, scope });
      expect(bands).toEqual(outcome.bands);
      expect({ keepLossDb, pilotAttenuationDb }).toEqual({
        keepLossDb: worstOf(outcome.bands, context).keepLossDb,
        pilotAttenuationDb: worstOf(outcome.bands, context).pilotAttenuationDb,
      });
    }
  });

  it('has nearest on it or below it', () => {
    expect(plain.bands).toEqual(nearest.fit(intents, context).bands);
    expect(plain).toMatchObject({
      keepLossDb: worstOf(plain.bands, context).keepLossDb,
      pilotAttenuationDb: worstOf(plain.bands, context).pilotAttenuationDb,
    });
    const best = frontier.findLast(({ keepLossLimitDb }) => keepLossLimitDb <= plain.keepLossDb);
    expect(best?.pilotAttenuationDb).toBeGreaterThanOrEqual(plain.pilotAttenuationDb - roundingDb);
  });

  it('ends where no setting keeps the limit any more', () => {
    if (unmetLimitDb === null) throw new Error('these desks cannot keep every limit');
    const scope = { ...context.scope, keepLossAtMostDb: unmetLimitDb };
    const { shortcomings } = protect.fit(intents, { ...context, scope });
    expect(shortcomings.map(({ kind }) => kind)).toContain('keep-limit');
    expect(frontier[0]?.keepLossLimitDb).toBeGreaterThan(unmetLimitDb);
    const met = usualLossLimitsDb.filter((limitDb) => limitDb > unmetLimitDb);
    expect(frontier.length).toBeGreaterThanOrEqual(met.length);
  });
});

it('tells a setting that serves several limits once, at the tightest', () => {
  const { frontier, unmetLimitDb } = tradeoff(intents, { ...contextOf('cut-section.json'), slots: [] });
  expect(unmetLimitDb).toBeNull();
  expect(frontier).toMatchObject([{ keepLossLimitDb: usualLossLimitsDb[0], bands: [] }]);
  // Nothing is set, so nothing is lost and nothing gained.
  expect(frontier[0]?.pilotAttenuationDb).toBeCloseTo(0, 12);
});
