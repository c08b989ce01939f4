import type { Filter } from '../../filters/filter.js';
import type { Realisation } from '../../filters/realisation.js';
import { roundingDb } from '../../guard/guard-figures.js';
import type { DeskSlotType } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import { itemAt, numberAt } from '../../units/at.js';
import { joined, responseDb } from '../response.js';
import { type AskedCurve, askedCurves } from './asked-curve.js';
import { type FilterSpace, filterSpace, mergingWith, type Setting } from './filter-space.js';
import { type Response, type Responses, responsesOn } from './responses.js';
import { makeScorer, type Scored, type Scorer } from './score.js';
import type { Seating, Seats } from './seating.js';

/** What stays the same however the slots are given out. */
export interface MatchProblem {
  readonly seats: Seats;
  /** The curve of all intents, at the points of all realisations. */
  readonly askedDb: Response;
  readonly score: Scorer;
  /** What each intent of `seats` asks for by itself. */
  readonly asks: readonly Response[];
  /** What the filters come to that stay as they are. */
  readonly fixed: Response;
  /** Whether filters are bent for what no filter of its own type makes. */
  readonly isShort: boolean;
  /** Responses by setting, shared by all that sit on slots of one kind. */
  readonly responsesOn: (slotType: DeskSlotType) => Responses;
  /** The filters made so far. */
  readonly filters: Map<string, SearchedFilter>;
}

/** A filter that is searched. */
export interface SearchedFilter {
  /** The place of its intent. */
  readonly index: number;
  readonly space: FilterSpace;
  readonly responseAt: Responses;
  readonly allows: (setting: Setting) => boolean;
}

/** What is searched for one way of giving out the slots: the settings of every filter that has one. */
export interface MatchSpace {
  readonly seating: Seating;
  readonly filters: readonly SearchedFilter[];
  readonly score: Scorer;
  readonly fixed: Response;
}

export const matchProblem = (
  intents: readonly Intent[],
  fixed: readonly Filter[],
  seats: Seats,
  realisations: readonly Realisation[],
): MatchProblem => {
  const curves = askedCurves(intents, realisations);
  const askedOf = (each: readonly AskedCurve[]): Response => joined(each.map(({ askedDb }) => askedDb));
  const askedDb = askedOf(curves);
  return {
    seats,
    askedDb,
    score: makeScorer(askedDb),
    asks: seats.intents.map((intent) => askedOf(askedCurves([intent], realisations))),
    fixed: joined(
      curves.map(({ realisation, frequenciesHz }) => responseDb(fixed, realisation, frequenciesHz)),
    ),
    isShort: fixed.length > 0 || seats.nearest.includes(null),
    responsesOn: responsesOn(curves),
    filters: new Map(),
  };
};

/** How far a filter may be bent off its own part of the curve to make up for what no other filter makes. */
const mostBentDb = 3;

/**
 * Which settings of a filter are open to it. Where every intent has a filter of its own type: all. Where part of the
 * curve has none, the others would be bent as far as they go for every dB there: a narrow cut would turn into a wide
 * and deep one. So they stay within 3 dB (common practice, no source) of their own part of the curve, which holds
 * what merges with it, or as near as nearest has them.
 */
const allowance = (
  { start }: FilterSpace,
  asks: readonly Response[],
  responseAt: Responses,
  isShort: boolean,
): SearchedFilter['allows'] => {
  if (!isShort) return () => true;
  const nearest = responseAt(start);
  const wire = nearest.map(() => 0);
  const score = makeScorer(nearest.map((_, i) => asks.reduce((sum, asked) => sum + numberAt(asked, i), 0)));
  const atMostDb =
    Math.max(mostBentDb, score(nearest, wire, Number.POSITIVE_INFINITY)?.worstDb ?? 0) + roundingDb;
  const known = new Map<string, boolean>();
  return (setting) => {
    const key = setting.join();
    const allows = known.get(key) ?? score(responseAt(setting), wire, atMostDb) !== null;
    known.set(key, allows);
    return allows;
  };
};

export const matchSpace = (problem: MatchProblem, seating: Seating): MatchSpace => {
  const { intents } = problem.seats;
  const unserved = intents.filter((_, index) => seating[index] === null);
  const filters = intents.flatMap((intent, index) => {
    const seat = seating[index] ?? null;
    return seat === null ? [] : [filterAt(problem, index, seat, mergingWith(intent, unserved))];
  });
  return { seating, filters, score: problem.score, fixed: problem.fixed };
};

/** The filter of an intent on a slot of a class; made once for each set of intents it may make up for. */
const filterAt = (
  { seats, asks, isShort, responsesOn, filters }: MatchProblem,
  index: number,
  seat: number,
  merging: readonly Intent[],
): SearchedFilter => {
  const merged = merging.map((other) => seats.intents.indexOf(other));
  const key = [index, seat, ...merged].join();
  const known = filters.get(key);
  if (known) return known;
  const offer = seats.offers[index]?.[seat];
  if (!offer) throw new RangeError('an intent sits where nothing serves it');
  const space = filterSpace(offer, merging);
  const responseAt = responsesOn(space.slotType);
  const own = [index, ...merged].map((each) => itemAt(asks, each));
  const placed = { index, space, responseAt, allows: allowance(space, own, responseAt, isShort) };
  filters.set(key, placed);
  return placed;
};

/** The responses of settings added up, and of what stays as it is. */
export const sumOf = (responses: readonly Response[], { fixed }: MatchSpace): Response =>
  fixed.map((fixedDb, i) => responses.reduce((sum, response) => sum + numberAt(response, i), fixedDb));

/** The response that settings come to. */
export const responseOf = (settings: readonly Setting[], space: MatchSpace): Response =>
  sumOf(
    space.filters.map(({ responseAt }, placed) => responseAt(itemAt(settings, placed))),
    space,
  );

/** What settings come to, whatever that is. */
export const scored = (settings: readonly Setting[], space: MatchSpace): Scored => {
  const sum = responseOf(settings, space);
  const score = space.score(
    sum,
    sum.map(() => 0),
    Number.POSITIVE_INFINITY,
  );
  if (!score) throw new RangeError('a response is not a number');
  return { ...score, settings };
};
