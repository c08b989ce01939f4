import type { Problem } from '../../model/problem.js';
import type { MissingFilter } from '../../model/recipe.js';
import type { Evidence, Target } from '../../model/target.js';
import type { Db } from '../../units/quantity.js';

/** A desk as it was named: the id of a shipped target, or a path. */
export interface NamedTarget {
  readonly name: string;
  readonly target: Target;
}

interface Compared {
  readonly name: string;
  readonly id: string;
  readonly title: string;
}

/** A filter that some guarded mixes do without, and how many of them. */
export interface MissingOnMixes extends MissingFilter {
  readonly mixCount: number;
}

/** What a person has to dial. */
export interface Dials {
  /** Knobs with more than one position, of every filter in use; each distinct setting counts once. */
  readonly knobs: number;
  /** How many distinct settings there are, however many mixes take each. */
  readonly settings: number;
  /** Whether the two outputs of a pair are dialled one by one, and a guarded mix is a pair. */
  readonly legsApart: boolean;
}

/** What a rig comes to on a desk, in the worst way the desk may build its filters, over all mixes with a pilot. */
export interface ServedDesk extends Compared {
  readonly fits: true;
  readonly verdict: 'met' | 'falls-short' | 'nothing-to-guard';
  readonly guardedMixCount: number;
  /** Of the mix that has least to spare over what it asks, or falls short most; null where no mix has a pilot. */
  readonly pilot: { readonly attenuationDb: Db; readonly askedDb: Db } | null;
  /** The most over the mixes; null where no mix has a pilot. */
  readonly keepLossDb: Db | null;
  /** By how much a limit is missed on the mix that misses it most; 0 where it is kept. */
  readonly short: { readonly pilotDb: number; readonly lossDb: number; readonly riseDb: number };
  readonly dials: Dials;
  readonly missing: readonly MissingOnMixes[];
  /** How many more things are otherwise than asked; the desk's recipe tells which. */
  readonly otherwiseCount: number;
  /** How many ways of building its filters are reckoned with. */
  readonly wayCount: number;
  readonly evidence: Evidence;
  /** What a search left open; null where the steps are proved to be the best. */
  readonly notProved: string | null;
}

/** A desk that lacks what the rig asks of it. */
export interface UnfitDesk extends Compared {
  readonly fits: false;
  /** The outputs it has and the highest that the rig uses, where that is more. */
  readonly outputs: { readonly count: number; readonly highestUsed: number } | null;
  /** Slots that the rig names and the desk has not. */
  readonly slotsUnknown: readonly string[];
  readonly problems: readonly Problem[];
}

export type ComparedDesk = ServedDesk | UnfitDesk;

/**
 * What tells one desk from a worse one, the weightiest first; the less the better in each. Common practice, no source:
 * the guard comes first, the music second.
 */
type Measure = (desk: ServedDesk) => number;

const isShort: Measure = ({ verdict }) => (verdict === 'falls-short' ? 1 : 0);

const missingCount: Measure = ({ missing }) => missing.length;

/**
 * Nobody hears less than half a decibel more or less of the top octave: within 0.5 dB, 1 dB, 1.5 dB and so on, of the
 * tenths that people are shown.
 */
const lossInHalfDecibels: Measure = ({ keepLossDb }) =>
  keepLossDb === null ? 0 : Math.max(0, Math.ceil(Math.round(10 * keepLossDb) / 5));

/** A decibel more or less at the pilot is less than one realisation differs from another. */
const pilotLeft: Measure = ({ pilot }) => (pilot === null ? 0 : -Math.round(pilot.attenuationDb));

const dialCount: Measure = ({ dials: { knobs, legsApart } }) => knobs * (legsApart ? 2 : 1);

/** Where the guard is met. */
const metMeasures: readonly Measure[] = [missingCount, pilotLeft, lossInHalfDecibels, dialCount];

/** Where it is not, whatever comes nearest to it is best. */
const shortMeasures: readonly Measure[] = [
  ({ short }) => short.pilotDb,
  ({ short }) => short.lossDb,
  ({ short }) => short.riseDb,
  ...metMeasures,
];

const byName = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const byIdThenName = (a: ComparedDesk, b: ComparedDesk): number =>
  byName(a.id, b.id) || byName(a.name, b.name);

const byService = (a: ServedDesk, b: ServedDesk): number => {
  const byGuard = isShort(a) - isShort(b);
  if (byGuard !== 0) return byGuard;
  const measures = a.verdict === 'falls-short' ? shortMeasures : metMeasures;
  return measures.map((measure) => measure(a) - measure(b)).find((difference) => difference !== 0) ?? 0;
};

/** Which of two desks serves the rig better: negative for the first. Desks it does not fit on come last. */
export const byMerit = (a: ComparedDesk, b: ComparedDesk): number => {
  if (a.fits && b.fits) return byService(a, b) || byIdThenName(a, b);
  if (a.fits !== b.fits) return a.fits ? -1 : 1;
  return byIdThenName(a, b);
};
