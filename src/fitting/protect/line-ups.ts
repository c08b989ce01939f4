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

/** Knobs with more steps than these are looked at in so many places. */
const mostPilotCutSteps = 1024;
const mostHighCutSteps = 1024;

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

/** A cut round the pilot may go to any bell or notch, a third of an octave off at most: farther off it is another filter. */
const pilotCutLattices = (classes: readonly SlotClass[], pilotHz: number): readonly Lattice[] =>
  latticesOf(classes, ['peaking', 'notch'], {
    fromHz: pilotHz / third,
    toHz: pilotHz * third,
    aboutHz: pilotHz,
    mostSteps: mostPilotCutSteps,
  });

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
    mostSteps: mostHighCutSteps,
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

/** Whether the desk has a slot for each. */
const isPossible = ({ highCuts, pilotCuts }: LineUp): boolean => {
  if (highCuts.length === 0 || pilotCuts.length === 0) return highCuts.length + pilotCuts.length > 0;
  return highCuts.some((highCut) => pilotCuts.some((pilotCut) => slotsSuffice([highCut, pilotCut])));
};

/**
 * What is tried, in this order, until something keeps within the limits: a high cut and a cut round the pilot; the
 * same with a high shelf for the high cut; one of the two alone. More loss than asked is allowed only where nothing
 * keeps it, and only for a high cut that nearest would take for one too: any other is better left out.
 */
export const attemptsOf = (
  { highCut, pilotCut }: Movers,
  classes: readonly SlotClass[],
  scope: GuardScope,
): readonly Attempt[] => {
  const pilotCuts = pilotCut ? pilotCutLattices(classes, scope.pilotHz) : [];
  const latticesFor = (type: FilterType) => (highCut ? highCutLattices(classes, type, highCut, scope) : []);
  const [cuts, shelves] = [latticesFor('lowpass'), latticesFor('highshelf')];
  const near = (highCuts: readonly Lattice[]) => (highCut ? highCuts.filter(isNear(highCut)) : []);

  const both = (highCuts: readonly Lattice[]): readonly LineUp[] =>
    highCuts.length > 0 && pilotCuts.length > 0 ? [{ highCuts, pilotCuts }] : [];
  const either = (...kinds: readonly (readonly Lattice[])[]): readonly LineUp[] => [
    { highCuts: [], pilotCuts },
    { highCuts: kinds.find((highCuts) => highCuts.length > 0) ?? [], pilotCuts: [] },
  ];
  const attempts: readonly Attempt[] = [
    { lineUps: both(cuts), mayLoseMore: false },
    { lineUps: both(near(cuts)), mayLoseMore: true },
    { lineUps: both(shelves), mayLoseMore: false },
    { lineUps: both(near(shelves)), mayLoseMore: true },
    { lineUps: either(cuts, shelves), mayLoseMore: false },
    { lineUps: either(near(cuts), near(shelves)), mayLoseMore: true },
  ];
  return attempts
    .map(({ lineUps, mayLoseMore }) => ({ lineUps: lineUps.filter(isPossible), mayLoseMore }))
    .filter(({ lineUps }) => lineUps.length > 0);
};
