import { buildChain } from '../../../src/filters/build.js';
import type { Filter } from '../../../src/filters/filter.js';
import type { Realisation } from '../../../src/filters/realisation.js';
import { magnitudeDb } from '../../../src/filters/response.js';
import { placedFilter } from '../../../src/fitting/placement.js';
import type { Desk, DeskSlotType } from '../../../src/model/desk.js';
import type { Intent } from '../../../src/model/intent.js';
import { type Knob, knobs } from '../../../src/model/knob.js';
import type { PlacedFilter } from '../../../src/model/recipe.js';
import { step } from '../../../src/units/quantity.js';

/**
 * The match fit done the plain way: every way of giving out the slots, every setting of each, and the greatest
 * difference from the curve of all intents taken anew for every combination. It shares no search code, no order and no
 * rule with the fit: what may be chosen is written down again here.
 */

/** The requirement's own points: 1/24 octave from 20 Hz up, and 20 kHz itself. */
const pointsHz = [
  ...Array.from({ length: 240 }, (_, i) => 20 * 2 ** (i / 24)).filter((f) => f < 20000),
  20000,
];

const analogue: Realisation = {
  id: 'prototype',
  design: 'analogue',
  qMeaning: 'cookbook',
  sampleRateHz: null,
};

/** The points of one realisation after those of the other: response, and whatever is held against it. */
interface Points {
  readonly realisation: Realisation;
  readonly frequenciesHz: Float64Array;
}

const pointsOf = (desk: Desk): readonly Points[] =>
  desk.target.realisations.map((realisation) => {
    const topHz = realisation.sampleRateHz === null ? Infinity : 0.499 * realisation.sampleRateHz;
    return { realisation, frequenciesHz: Float64Array.from(pointsHz.filter((f) => f <= topHz)) };
  });

const gainsDb = (filters: readonly Filter[], points: readonly Points[], built: 'desk' | 'asked') =>
  points.flatMap(({ realisation, frequenciesHz }) => {
    const out = new Float64Array(frequenciesHz.length);
    magnitudeDb(buildChain(filters, built === 'desk' ? realisation : analogue), frequenciesHz, out);
    return [...out];
  });

const farthestDb = (madeDb: readonly number[], askedDb: readonly number[]): number =>
  madeDb.reduce(
    (most, gainDb, i) => Math.max(most, Math.abs(Math.max(-60, gainDb) - Math.max(-60, askedDb[i] ?? 0))),
    0,
  );

const filtersOf = (filters: readonly PlacedFilter[]): readonly Filter[] =>
  filters.map(({ type, set }) => placedFilter(type, set));

/** The greatest difference from the analogue curve of all intents, worst over the desk's realisations. */
export const differenceDb = (
  filters: readonly PlacedFilter[],
  intents: readonly Intent[],
  desk: Desk,
): number => {
  const points = pointsOf(desk);
  return farthestDb(gainsDb(filtersOf(filters), points, 'desk'), gainsDb(intents, points, 'asked'));
};

/** Every setting of a slot type, knob by knob. */
const everySetting = (slotType: DeskSlotType): readonly Filter[] =>
  (Object.entries(slotType.grids) as [Knob, DeskSlotType['grids']['frequency']][]).reduce<readonly Filter[]>(
    (filters, [knob, grid]) =>
      filters.flatMap((filter) =>
        Array.from({ length: grid.count }, (_, index) => ({
          ...filter,
          [knobs[knob].value]: grid.valueAt(step(index)),
        })),
      ),
    [{ type: slotType.type } as Filter],
  );

const centsFrom = (a: Filter, b: Filter): number => 1200 * Math.log2(b.frequencyHz / a.frequencyHz);

/** W3C Audio EQ Cookbook: 1/Q = 2 sinh(ln 2 / 2 · BW), half of BW in cents. */
const halfWidthCents = ({ q: own }: Filter): number => (1200 / Math.LN2) * Math.asinh(1 / (2 * (own ?? 1)));

const protectiveRoles = ['pilot-cut', 'high-cut', 'low-cut'];
const rankOf = ({ role }: Intent): string => (protectiveRoles.includes(role) ? role : 'own');

/** Bells of one sign and rank whose stretches between midpoint gains touch. */
const mayMerge = (one: Intent, other: Intent): boolean =>
  [one, other].every(({ type }) => type === 'peaking') &&
  rankOf(one) === rankOf(other) &&
  Math.sign(one.gainDb ?? 0) * Math.sign(other.gainDb ?? 0) === 1 &&
  Math.abs(centsFrom(one, other)) <= halfWidthCents(one) + halfWidthCents(other);

/** Whether a frequency lies within a third of an octave of what is asked, or half way to something it may merge with. */
const isWithinReach = (filter: Filter, intent: Intent, merging: readonly Intent[]): boolean =>
  Math.abs(centsFrom(intent, filter)) <= 400 ||
  merging.some((other) => {
    const share = centsFrom(intent, filter) / centsFrom(intent, other);
    return share >= 0 && share <= 0.5;
  });

const hasSign = (filter: Filter, { gainDb }: Intent): boolean =>
  filter.gainDb === undefined || filter.gainDb === 0 || Math.sign(filter.gainDb) === Math.sign(gainDb ?? 0);

/** What every intent might be served by: the slots of its own type, with the nearest setting there. */
type NearestOn = (intent: Intent, slot: string) => Filter | null;

/**
 * The least greatest difference there is, given what nearest does: substitutes stay, as many intents of each rank are
 * served, and where part of the curve has no filter of its own type none goes farther off its own part than 3 dB.
 */
export const leastDifferenceDb = (
  intents: readonly Intent[],
  desk: Desk,
  nearest: readonly PlacedFilter[],
  nearestOn: NearestOn,
): number => {
  const points = pointsOf(desk);
  const askedDb = gainsDb(intents, points, 'asked');
  const substitutes = nearest.filter(({ type, asked }) => type !== asked.type);
  const movable = intents.filter((intent) => !substitutes.some(({ asked }) => asked === intent));
  const slots = desk.slots.filter(({ id }) => !substitutes.some(({ slot }) => slot === id));
  const served = (has: (intent: Intent) => boolean): string => movable.filter(has).map(rankOf).sort().join();
  const servedByNearest = served((intent) => nearest.some(({ asked }) => asked === intent));
  const isShort =
    substitutes.length > 0 || movable.some((intent) => !nearest.some(({ asked }) => asked === intent));
  const fixedDb = gainsDb(filtersOf(substitutes), points, 'desk');

  const choicesDb = (intent: Intent, slot: (typeof slots)[number], unserved: readonly Intent[]) => {
    const slotType = slot.types.get(intent.type) as DeskSlotType;
    const start = nearestOn(intent, slot.id) as Filter;
    const merging = unserved.filter((other) => mayMerge(intent, other));
    const ownDb = gainsDb([intent, ...merging], points, 'asked');
    const offDb = (filter: Filter): number => farthestDb(gainsDb([filter], points, 'desk'), ownDb);
    const mostDb = Math.max(3, offDb(start)) + 1e-9;
    const open = everySetting(slotType).filter(
      (filter) =>
        isWithinReach(filter, intent, merging) &&
        // Where a knob has nothing of the sign asked, nearest's is all there is.
        (hasSign(filter, intent) || filter.gainDb === start.gainDb) &&
        (!isShort || offDb(filter) <= mostDb),
    );
    return open.map((filter) => gainsDb([filter], points, 'desk'));
  };

  let least = Infinity;
  const combine = (sumDb: readonly number[], rest: readonly (readonly (readonly number[])[])[]): void => {
    const [choices, ...others] = rest;
    if (!choices) {
      least = Math.min(least, farthestDb(sumDb, askedDb));
      return;
    }
    for (const choice of choices)
      combine(
        sumDb.map((db, i) => db + (choice[i] as number)),
        others,
      );
  };
  const seat = (index: number, held: ReadonlyMap<Intent, (typeof slots)[number]>): void => {
    const intent = movable[index];
    if (!intent) {
      if (served((each) => held.has(each)) !== servedByNearest) return;
      const unserved = movable.filter((each) => !held.has(each));
      combine(
        fixedDb,
        [...held].map(([each, slot]) => choicesDb(each, slot, unserved)),
      );
      return;
    }
    seat(index + 1, held);
    for (const slot of slots) {
      if ([...held.values()].includes(slot) || !slot.types.has(intent.type) || !nearestOn(intent, slot.id))
        continue;
      seat(index + 1, new Map([...held, [intent, slot]]));
    }
  };
  seat(0, new Map());
  return least;
};
