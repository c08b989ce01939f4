import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeGuard } from '../../src/fitting/make-guard.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { type Case, cases, withLimit } from './protect/cases.js';
import { choiceCount, type Exhausted, equalDb, exhaust } from './protect/exhaustive.js';

/** More choices than these would take plain search too long. */
const mostChoices = 4000;

const smallCases = cases.filter((each) => choiceCount(each) <= mostChoices);

const fitOf = ({ intents, context, target, scope }: Case) => {
  const outcome = protect.fit(intents, context);
  return { ...outcome, worst: makeGuard(outcome.bands, target.realisations, scope).worst };
};

const expectSame = (each: Case, exhausted: Exhausted): void => {
  const { worst, shortcomings, unproved } = fitOf(each);
  const { best, heldToDb, leastDb } = exhausted;
  expect(Math.abs(worst.pilotAttenuationDb - best.attenuationDb)).toBeLessThan(equalDb);
  expect(Math.abs(worst.keepLossDb - best.lossDb)).toBeLessThan(equalDb);
  expect(Math.abs(worst.guardBandDb - best.guardBandDb)).toBeLessThan(equalDb);
  expect(unproved).toBeUndefined();
  const told = shortcomings.filter(({ kind }) => kind === 'keep-limit');
  expect(told).toMatchObject(leastDb === null ? [] : [{ leastDb, heldToDb }]);
};

describe('protect finds what plain exhaustive search finds', () => {
  it.each([
    { name: 'whatever the desk and the wishes', arbitrary: smallCases, runs: 120 },
    {
      name: 'with one or two slots to spare',
      arbitrary: smallCases.filter(({ context }) => context.spareSlots > 0),
      runs: 60,
    },
    {
      name: 'with notches, which show only at the points looked at',
      arbitrary: smallCases.filter(({ target }) => target.slots.some(({ types }) => types.notch)),
      runs: 60,
    },
    {
      name: 'with high cuts that resonate',
      arbitrary: smallCases.filter(({ target }) => target.slots.some(({ types }) => types.lowpass?.q)),
      runs: 60,
    },
    {
      name: 'with nothing but high shelves for a high cut',
      arbitrary: smallCases.filter(
        ({ target: { slots } }) =>
          slots.some(({ types }) => types.highshelf) && slots.every(({ types }) => !types.lowpass),
      ),
      runs: 60,
    },
  ])('$name', ({ arbitrary, runs }) => {
    let compared = 0;
    fc.assert(
      fc.property(arbitrary, (each) => {
        const exhausted = exhaust(each);
        if (exhausted === null) return;
        compared++;
        expectSame(each, exhausted);
      }),
      { numRuns: runs },
    );
    expect(compared).toBeGreaterThan(runs / 2);
  });

  it('and where none keeps within the limit, the least limit that one does', () => {
    let stretched = 0;
    const tight = smallCases.map((each) => withLimit(each, 0.3));
    fc.assert(
      fc.property(tight, (each) => {
        const exhausted = exhaust(each);
        if (exhausted === null) return;
        if (exhausted.leastDb !== null) stretched++;
        expectSame(each, exhausted);
      }),
      { numRuns: 80 },
    );
    expect(stretched).toBeGreaterThan(10);
  });
});
