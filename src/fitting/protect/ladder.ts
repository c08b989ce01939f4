import type { LossLimits } from '../loss-limits.js';
import type { Found } from './search/evaluate.js';
import { leastLoss, mostAttenuation } from './search/goal.js';
import type { Searched } from './search/search.js';
import { type CutCounts, searchCounts } from './search/search-counts.js';
import { equalDb } from './space/limits.js';
import type { SearchSpace } from './space/search-space.js';

/** A setting chosen, the limit it was chosen within, and how much better it might be in what it was chosen for. */
export interface Chosen {
  readonly found: Found;
  readonly withinDb: number;
  readonly open: { readonly pilotDb: number; readonly lossDb: number };
}

/** What was chosen, and a setting a person may prefer: one that costs less music, or one that protects more. */
export interface Climbed {
  readonly chosen: Chosen;
  readonly alternative: { readonly kind: 'gentler' | 'stronger'; readonly chosen: Chosen } | null;
  /** Whether the slot of a high cut was given to a further cut, which no stated limit does. */
  readonly isWithoutHighCut: boolean;
}

/** A setting better than another in neither attenuation nor loss by so much is not worth telling. */
const worthTellingDb = 0.05;

const differ = (a: Chosen, b: Chosen): boolean =>
  Math.abs(a.found.pilotAttenuationDb - b.found.pilotAttenuationDb) >= worthTellingDb ||
  Math.abs(a.found.keepLossDb - b.found.keepLossDb) >= worthTellingDb;

const isBetterWithin = (limitDb: number, one: Chosen, other: Chosen): boolean =>
  one.found.keepLossDb <= limitDb && one.found.pilotAttenuationDb > other.found.pilotAttenuationDb + equalDb;

const chosenOf = ({ found, openDb }: Searched, withinDb: number, what: 'pilotDb' | 'lossDb'): Chosen | null =>
  found && { found, withinDb, open: { pilotDb: 0, lossDb: 0, [what]: openDb } };

/**
 * The most attenuation within the usual limit; where that is less than asked, the least loss up to the greatest that
 * reaches it; where nothing does, the most attenuation there is within that. Null where something must rise.
 *
 * A second cut takes the place of the high cut only where there is no high cut to be had (`counts` says so) or, unless a
 * limit was stated, where beside one nothing reaches the attenuation asked.
 */
export const climbLadder = (
  space: SearchSpace,
  counts: CutCounts,
  { usualDb, mostDb, isHard }: LossLimits,
  askedDb: number,
): Climbed | null => {
  const within = (limitDb: number, allowed: CutCounts, known: Found | null = null): Chosen | null =>
    chosenOf(searchCounts(space, allowed, mostAttenuation(limitDb), known), limitDb, 'pilotDb');
  const reaching = (allowed: CutCounts): Chosen | null =>
    chosenOf(searchCounts(space, allowed, leastLoss(askedDb, mostDb)), mostDb, 'lossDb');
  const reaches = (chosen: Chosen | null): boolean =>
    chosen !== null && chosen.found.pilotAttenuationDb >= askedDb - equalDb;
  const mayStretch = mostDb > usualDb + equalDb;

  const climbWith = (
    allowed: CutCounts,
    isWithoutHighCut: boolean,
    known: Found | null = null,
  ): Climbed | null => {
    const usual = within(usualDb, allowed, known);
    if (!usual || !mayStretch) return usual && { chosen: usual, alternative: null, isWithoutHighCut };
    const other = (reaches(usual) ? null : reaching(allowed)) ?? within(mostDb, allowed, usual.found);
    if (!other) return { chosen: usual, alternative: null, isWithoutHighCut };
    // Where work ran out in the first search, the other may have found what the first was after.
    if (isBetterWithin(usualDb, other, usual)) return climbWith(allowed, isWithoutHighCut, other.found);
    const isTold = differ(usual, other);
    return reaches(usual)
      ? { chosen: usual, alternative: isTold ? { kind: 'stronger', chosen: other } : null, isWithoutHighCut }
      : { chosen: other, alternative: isTold ? { kind: 'gentler', chosen: usual } : null, isWithoutHighCut };
  };

  const first = climbWith(counts, false);
  const more = { ...counts, alone: counts.insteadOfHighCut };
  const mayLeaveOut = !isHard && counts.alone < more.alone;
  return first && mayLeaveOut && !reaches(first.chosen) ? climbWith(more, true) : first;
};
