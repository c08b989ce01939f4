import { roundingDb } from '../../guard/guard-figures.js';
import type { LossLimits } from '../guard-task.js';
import { leastShownDb } from '../response.js';
import type { Found } from './search/evaluate.js';
import { leastLoss, mostAttenuation } from './search/goal.js';
import { type BestOfCounts, type CutCounts, searchCounts } from './search/search-counts.js';
import type { SearchSpace } from './search/search-space.js';

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

/** Whether one is better than another, in attenuation or loss, by what is worth telling. */
const differ = (a: Chosen, b: Chosen): boolean =>
  Math.abs(a.found.pilotAttenuationDb - b.found.pilotAttenuationDb) >= leastShownDb ||
  Math.abs(a.found.keepLossDb - b.found.keepLossDb) >= leastShownDb;

const chosenOf = (
  { found, openDb }: BestOfCounts,
  withinDb: number,
  what: 'pilotDb' | 'lossDb',
): Chosen | null => found && { found, withinDb, open: { pilotDb: 0, lossDb: 0, [what]: openDb } };

const isBetterWithin = (limitDb: number, { found }: Chosen, usual: Chosen): boolean =>
  found.keepLossDb <= limitDb && found.pilotAttenuationDb > usual.found.pilotAttenuationDb + roundingDb;

/**
 * The least loss that reaches what is asked, and what the search within the usual limit left open, where that may have
 * reached it as well.
 */
const withUsualOpen = (least: Chosen, usual: Chosen): Chosen => {
  const mayBeUsual = least.found.keepLossDb - least.open.lossDb <= usual.withinDb;
  const couldDb = usual.found.pilotAttenuationDb + usual.open.pilotDb - least.found.pilotAttenuationDb;
  return mayBeUsual ? { ...least, open: { ...least.open, pilotDb: Math.max(0, couldDb) } } : least;
};

/**
 * The most attenuation within the usual limit; where that is less than asked, the least loss up to the greatest that
 * reaches it; where nothing does, the most attenuation there is within that. Where loss is only spent to reach what is
 * asked, the least that does comes first. Null where something must rise.
 *
 * A second cut takes the place of the high cut only where there is no high cut to be had (`counts` says so) or, unless a
 * limit was stated, where beside one nothing reaches the attenuation asked, and only for more.
 */
export const climbLadder = (
  space: SearchSpace,
  counts: CutCounts,
  { usualDb, mostDb, isHard, isOnlyToReach = false }: LossLimits,
  askedDb: number,
): Climbed | null => {
  const within = (limitDb: number, allowed: CutCounts, known: readonly Found[]): Chosen | null =>
    chosenOf(searchCounts(space, allowed, mostAttenuation(limitDb), known), limitDb, 'pilotDb');
  const reaching = (allowed: CutCounts, known: readonly Found[]): Chosen | null =>
    chosenOf(searchCounts(space, allowed, leastLoss(askedDb, mostDb), known), mostDb, 'lossDb');
  const reaches = (chosen: Chosen | null): boolean =>
    chosen !== null && chosen.found.pilotAttenuationDb >= askedDb - roundingDb;
  const mayStretch = mostDb > usualDb + roundingDb;

  const climbWith = (
    allowed: CutCounts,
    isWithoutHighCut: boolean,
    known: readonly Found[],
  ): Climbed | null => {
    const cheapest = isOnlyToReach ? reaching(allowed, known) : null;
    if (cheapest) return { chosen: cheapest, alternative: null, isWithoutHighCut };
    const usual = within(usualDb, allowed, known);
    if (!usual || !mayStretch) return usual && { chosen: usual, alternative: null, isWithoutHighCut };
    const sofar = [...known, usual.found];
    const least = reaches(usual) ? null : reaching(allowed, sofar);
    const most = least ? null : within(mostDb, allowed, sofar);
    const other = least ?? most;
    if (!other) return { chosen: usual, alternative: null, isWithoutHighCut };
    // Where work ran out in one search, the next may have found what it was after.
    const isMissed = isBetterWithin(usualDb, other, usual) || (!reaches(usual) && reaches(most));
    if (isMissed) return climbWith(allowed, isWithoutHighCut, [...known, other.found]);
    const isTold = differ(usual, other);
    if (reaches(usual)) {
      const alternative = isTold ? ({ kind: 'stronger', chosen: other } as const) : null;
      return { chosen: usual, alternative, isWithoutHighCut };
    }
    return {
      chosen: least ? withUsualOpen(least, usual) : other,
      alternative: isTold ? { kind: 'gentler', chosen: usual } : null,
      isWithoutHighCut,
    };
  };

  const first = climbWith(counts, false, []);
  const more = { ...counts, alone: counts.insteadOfHighCut };
  if (!first || isHard || counts.alone >= more.alone || reaches(first.chosen)) return first;
  const found = [first.chosen, first.alternative?.chosen].flatMap((each) => each?.found ?? []);
  const without = climbWith(more, true, found);
  const gainedDb = without
    ? without.chosen.found.pilotAttenuationDb - first.chosen.found.pilotAttenuationDb
    : 0;
  return without && (reaches(without.chosen) || gainedDb > roundingDb) ? without : first;
};
