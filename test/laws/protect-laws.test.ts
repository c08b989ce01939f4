import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FitOutcome } from '../../src/fitting/fit.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { db } from '../../src/units/quantity.js';
import { type Case, cases, withScope, withSlots } from './protect/cases.js';
import {
  askedDb,
  equalDb,
  expectNotWorseThanByHand,
  expectSound,
  isDerivedOnly,
  worstOf,
} from './protect/sound.js';

/** Laws that are held to the same cases, which one seed draws, have each of them fitted once. */
const fitted = new Map<string, { readonly intents: Case['intents']; readonly outcome: FitOutcome }>();

/** What is chosen for a case, and the very intents it is told of. */
const fitOf = (each: Case) => {
  const { desk, slots, ...asked } = each.context;
  const key = JSON.stringify([each.target, each.intents, each.scope, asked, slots.map(({ id }) => id)]);
  const { intents } = each;
  const known = fitted.get(key) ?? { intents, outcome: protect.fit(intents, each.context) };
  fitted.set(key, known);
  return { ...known.outcome, intents: known.intents, worst: worstOf(known.outcome.filters, each) };
};

const runsOf = (runs: number): number => Number(process.env.RUNS ?? runs);

const withFewerSlots = cases.chain((each) =>
  fc.subarray([...each.context.slots]).map((slots) => ({ more: each, fewer: withSlots(each, slots) })),
);

const stated = (each: Case, limitDb: number): Case =>
  withScope(each, { keepLossAtMostDb: db(limitDb), isKeepLossStated: true });

describe('a protective fit', () => {
  it('breaks no limit untold, moves nothing it may not, and stays on the grid, on any small desk', () => {
    fc.assert(
      fc.property(cases, (each) => expectSound(each, fitOf(each))),
      { numRuns: runsOf(70) },
    );
  });

  it('uses only the slots that are free', () => {
    fc.assert(
      fc.property(withFewerSlots, ({ fewer }) => expectSound(fewer, fitOf(fewer))),
      { numRuns: runsOf(50) },
    );
  });

  it('never leaves the pilot less than by hand, unless the attenuation asked is met for no more loss', () => {
    fc.assert(
      fc.property(cases, (each) => expectNotWorseThanByHand(each, () => fitOf(each))),
      { numRuns: runsOf(100) },
    );
  });

  it('is never worse with more free slots', () => {
    fc.assert(
      fc.property(withFewerSlots, ({ more, fewer }) => {
        if (!isDerivedOnly(more) || more.scope.isKeepLossStated) return;
        const [many, few] = [fitOf(more).worst, fitOf(fewer).worst];
        const isMet = many.pilotAttenuationDb >= askedDb(more);
        if (!isMet) expect(many.pilotAttenuationDb).toBeGreaterThanOrEqual(few.pilotAttenuationDb - equalDb);
      }),
      { numRuns: runsOf(100) },
    );
  });

  it('never leaves the pilot less within a looser limit', () => {
    const limits = fc.tuple(
      fc.double({ min: 0.2, max: 4, noNaN: true }),
      fc.double({ min: 0, max: 2, noNaN: true }),
    );
    fc.assert(
      fc.property(cases, limits, (each, [tightDb, moreDb]) => {
        if (!isDerivedOnly(each)) return;
        const tight = fitOf(stated(each, tightDb)).worst;
        const loose = fitOf(stated(each, tightDb + moreDb)).worst;
        expect(loose.pilotAttenuationDb).toBeGreaterThanOrEqual(tight.pilotAttenuationDb - equalDb);
      }),
      { numRuns: runsOf(50) },
    );
  });

  it('gives the alternative it tells of, or better for no more, where its loss is stated as the limit', () => {
    let told = 0;
    fc.assert(
      fc.property(cases, (each) => {
        const { alternative } = fitOf(each);
        if (!alternative?.isHadByLimit) return;
        told++;
        const promised = worstOf(alternative.filters, each);
        const limitDb = Math.ceil(promised.keepLossDb * 100 - 1e-6) / 100;
        const { worst } = fitOf(stated(each, limitDb));
        expect(worst.pilotAttenuationDb).toBeGreaterThanOrEqual(promised.pilotAttenuationDb - equalDb);
        expect(worst.keepLossDb).toBeLessThanOrEqual(limitDb + equalDb);
      }),
      { numRuns: runsOf(70) },
    );
    expect(told).toBeGreaterThan(runsOf(70) / 10);
  });
});
