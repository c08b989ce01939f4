import type { PlacedFilter } from '../../model/recipe.js';
import type { Fit, FitContext, FitOutcome, Shortcoming } from '../fit.js';
import { nearest, type Offer, offerShortcomings, placedOf } from '../nearest/nearest.js';
import { place, placedFilter } from '../placement.js';
import { stepsOf } from './filter-space.js';
import { type MatchProblem, matchProblem, matchSpace } from './match-space.js';
import { allSpaces, type Matched, searchAll } from './search-all.js';
import { searchNear } from './search-near.js';
import { seatsOf, slotsOfSeating } from './seating.js';

/** The filters found, by the place of their intents in rising frequency. */
const placedOfSeats = (
  { seats }: MatchProblem,
  { space, found }: Matched,
  followers: readonly PlacedFilter[],
  { desk }: FitContext,
): ReadonlyMap<number, { readonly placed: PlacedFilter; readonly offer: Offer }> => {
  const slotOf = slotsOfSeating(seats, space.seating, followers);
  return new Map(
    space.filters.map(({ index, space: own }, position) => {
      const seat = space.seating[index] ?? null;
      const offer = seat === null ? null : seats.offers[index]?.[seat];
      const slot = slotOf.get(index);
      const setting = found.settings[position];
      if (!offer || !slot || !setting) throw new RangeError('an intent that was seated sits nowhere');
      const { intent, slotType } = offer.service;
      const placement = place(intent, slotType, desk.target.display, stepsOf(own, setting));
      return [index, { placed: placedOf(intent, { ...offer, placement }, slot), offer }] as const;
    }),
  );
};

/** What went otherwise for an intent with a filter of its own type; where knobs end is where nearest has them. */
const shortcomingsOf = ({
  placed,
  offer,
}: {
  readonly placed: PlacedFilter;
  readonly offer: Offer;
}): readonly Shortcoming[] =>
  offerShortcomings(placed.asked, offer, placed).map((each) =>
    each.kind === 'beyond-range'
      ? {
          ...each,
          ends: Object.fromEntries(
            each.knobs.map((knob) => [knob, offer.placement.steps[knob]?.display ?? '']),
          ),
        }
      : each,
  );

const fitCurve: Fit['fit'] = (intents, context): FitOutcome => {
  const { desk, slots } = context;
  const plain = nearest.fit(intents, context);
  // A substitute cannot follow the curve of another type: it stays, and the others are fitted round it.
  const substitutes = plain.filters.filter(({ type, asked }) => type !== asked.type);
  const followers = plain.filters.filter((placed) => !substitutes.includes(placed));
  if (followers.length === 0) return plain;
  const byFrequency = [...intents].sort((a, b) => a.frequencyHz - b.frequencyHz);
  const seats = seatsOf(
    byFrequency.filter((intent) => !substitutes.some(({ asked }) => asked === intent)),
    followers,
    slots.filter(({ id }) => !substitutes.some(({ slot }) => slot === id)),
    context,
  );
  const problem = matchProblem(
    intents,
    substitutes.map(({ type, set }) => placedFilter(type, set)),
    seats,
    desk.target.realisations,
  );
  const plainSpace = matchSpace(problem, seats.nearest);
  const spaces = allSpaces(problem, plainSpace);
  const found = placedOfSeats(
    problem,
    spaces ? searchAll(spaces) : searchNear(problem, plainSpace),
    followers,
    context,
  );

  const filters = [...substitutes, ...[...found.values()].map(({ placed }) => placed)];
  const order = (placed: PlacedFilter): number => slots.findIndex(({ id }) => id === placed.slot);
  return {
    filters: filters.sort((a, b) => order(a) - order(b)),
    shortcomings: byFrequency.flatMap((intent): readonly Shortcoming[] => {
      const index = seats.intents.indexOf(intent);
      if (index < 0) return plain.shortcomings.filter((each) => each.intent === intent);
      const served = found.get(index);
      return served
        ? shortcomingsOf(served)
        : [{ kind: 'no-place', intent, slotsFree: slots.length, isMadeUpFor: true }];
    }),
  };
};

/**
 * The slots and steps whose response lies closest to the curve asked for, the analogue prototypes of all intents: the
 * least greatest difference in dB, to the tenth that is shown, over 1/24-octave points from 20 Hz to 20 kHz, both
 * curves floored at -60 dB, in the worst of the ways the desk may build its filters; of those that show the same, the
 * one with the smallest sum of squares. It is the figure of `curveDifference`.
 *
 * All that `nearest` finds no slot for counts, and so do substitutes for another type, which stay where
 * nearest puts them. Of intents of one rank others may be left out than nearest leaves out, never more. A filter stays
 * within a third of an octave of what was asked, but for bells: one may move half way to another without a slot that
 * it can merge with. Where part of the curve has no filter of its own type, filters are bent for it by 3 dB at most.
 *
 * Where there are few enough combinations all of them are looked at and the best is taken; else it is a setting that
 * no move of one filter or of two betters (see `search-near.ts`). It never shows a greater difference than nearest.
 */
export const match: Fit = {
  name: 'match',
  summary: 'the steps that together come closest to the curve asked for',
  needsGuard: false,
  isDefaultFor: ['intents'],
  comparedWith: nearest,
  mayTakeLong: () => false,
  fit: fitCurve,
};
