import type { FilterType } from '../../filters/filter.js';
import type { Intent } from '../../model/intent.js';
import type { GuardScope } from '../../multiplex/guard-scope.js';
import { nearestStep } from '../../quantisers/snap.js';
import { centsBetween, hz } from '../../units/quantity.js';
import { farthestCents } from '../nearest.js';
import { serviceOf } from '../stand-ins.js';
import { type Lattice, type LatticeBounds, makeLattice } from './lattice.js';
import type { Movers } from './movers.js';
import type { SlotClass } from './slot-classes.js';
import { slotsSuffice } from './slots.js';

/** What a search may choose from: lattices for the high cut and for the cuts round the pilot; either may be empty. */
export interface LineUp {
  readonly highCuts: readonly Lattice[];
  readonly pilotCuts: readonly Lattice[];
}

/** Line-ups that stand for one another, the one that attenuates more to be taken. */
export interface Attempt {
  readonly lineUps: readonly LineUp[];
  /** Whether more loss than asked may be allowed for them, if need be. */
  readonly mayLoseMore: boolean;
}

/** A knob with more steps than this is looked at in so many places. */
const mostSteps = 1024;

/** High cuts are all kept at hand: with more settings than this on a desk, their knobs are thinned. */
const mostHighCuts = 120_000;

const third = 2 ** (farthestCents / 1200);

const latticesOf = (
  classes: readonly SlotClass[],
  types: readonly FilterType[],
  bounds: LatticeBounds,
): readonly Lattice[] =>
  classes.flatMap((slotClass) =>
    types.flatMap((type) => {
      const slotType = slotClass.types.get(type);
      return (slotType && makeLattice(slotClass, slotType, bounds)) ?? [];
    }),
  );

/**
 * A cut round the pilot may go to any bell or notch that can serve it, a third of an octave off at most: farther off it
 * is another filter.
 */
const pilotCutLattices = (
  pilotCut: Intent,
  classes: readonly SlotClass[],
  pilotHz: number,
): readonly Lattice[] =>
  latticesOf(classes, ['peaking', 'notch'], {
    fromHz: pilotHz / third,
    toHz: pilotHz * third,
    aboutHz: pilotHz,
    mostSteps,
    mostSettings: Number.POSITIVE_INFINITY,
  }).filter(({ slotType }) => serviceOf(pilotCut, new Map([[slotType.type, slotType]])) !== null);

/** A high cut two octaves below the end of the keep band takes 12 dB there even at 6 dB per octave: not worth a look. */
const highCutLattices = (
  classes: readonly SlotClass[],
  type: FilterType,
  { frequencyHz }: Intent,
  { keepHighHz }: GuardScope,
): readonly Lattice[] =>
  latticesOf(classes, [type], {
    fromHz: keepHighHz / 4,
    toHz: Number.POSITIVE_INFINITY,
    aboutHz: frequencyHz,
    mostSteps,
    mostSettings: mostHighCuts / classes.filter(({ types }) => types.has(type)).length,
  });

/** Whether nearest would see a place for a filter there. */
const isNear =
  (asked: Intent) =>
  ({ slotType }: Lattice): boolean => {
    const service = serviceOf(asked, new Map([[slotType.type, slotType]]));
    if (!service) return false;
    const { frequency } = slotType.grids;
    const wantedHz = service.intent.frequencyHz;
    const reached = frequency.valueAt(nearestStep(frequency, wantedHz, { measure: 'ratio', tie: 'up' }));
    return Math.abs(centsBetween(wantedHz, hz(reached))) <= farthestCents;
  };

const none: readonly Lattice[] = [];

const both = (highCuts: readonly Lattice[], pilotCuts: readonly Lattice[]): readonly LineUp[] =>
  highCuts.some((highCut) => pilotCuts.some((pilotCut) => slotsSuffice([highCut, pilotCut])))
    ? [{ highCuts, pilotCuts }]
    : [];

const alone = ({ highCuts = none, pilotCuts = none }: Partial<LineUp>): readonly LineUp[] =>
  highCuts.length + pilotCuts.length > 0 ? [{ highCuts, pilotCuts }] : [];

/**
 * What is tried, in this order, until something keeps within the limits. What nearest has a place for gets one: both a
 * high cut and a cut round the pilot or, if not both have one, the same with a high shelf or, failing that too, one of
 * the two alone. High cuts farther off than nearest would go come into question as well, where they do better; but no
 * more loss than asked is allowed for their sake.
 */
export const attemptsOf = (
  { highCut, pilotCut }: Movers,
  classes: readonly SlotClass[],
  scope: GuardScope,
): readonly Attempt[] => {
  const pilotCuts = pilotCut ? pilotCutLattices(pilotCut, classes, scope.pilotHz) : none;
  const latticesFor = (type: FilterType) => (highCut ? highCutLattices(classes, type, highCut, scope) : none);
  const near = (lattices: readonly Lattice[]) => (highCut ? lattices.filter(isNear(highCut)) : none);
  const [cuts, shelves] = [latticesFor('lowpass'), latticesFor('highshelf')];
  const [nearCuts, nearShelves] = [near(cuts), near(shelves)];

  const withCuts = { all: both(cuts, pilotCuts), near: both(nearCuts, pilotCuts) };
  const withShelves = {
    all: [...withCuts.all, ...both(shelves, pilotCuts)],
    near: both(nearShelves, pilotCuts),
  };
  const oneOfThem = {
    all: [
      ...withShelves.all,
      ...alone({ pilotCuts }),
      ...alone({ highCuts: cuts }),
      ...(nearCuts.length > 0 ? [] : alone({ highCuts: shelves })),
    ],
    near: [...alone({ pilotCuts }), ...alone({ highCuts: nearCuts.length > 0 ? nearCuts : nearShelves })],
  };
  return [withCuts, withShelves, oneOfThem]
    .filter((each) => each.near.length > 0 || each === oneOfThem)
    .flatMap((each) => [
      { lineUps: each.all, mayLoseMore: false },
      { lineUps: each.near, mayLoseMore: true },
    ])
    .filter(({ lineUps }) => lineUps.length > 0);
};
