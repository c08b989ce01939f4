import { roundingDb } from '../../guard/guard-figures.js';
import type { DeskSlot } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { db } from '../../units/quantity.js';
import type { Alternative, Fit, FitContext, FitOutcome, Shortcoming } from '../fit.js';
import type { GuardTask } from '../guard-task.js';
import { nearest } from '../nearest/nearest.js';
import { placedFilter } from '../placement.js';
import { slotClasses } from '../slot-classes.js';
import { type Chosen, type Climbed, climbLadder } from './ladder.js';
import { type Given, giveSlots, shortcomingsOf } from './placed-filters.js';
import { closeEnoughDb } from './search/search.js';
import type { CutCounts } from './search/search-counts.js';
import { makeSearchSpace } from './search/search-space.js';
import { type Candidates, candidatesOf, type Movers, moversOf } from './space/candidates.js';

/** One cut round the pilot where that one moves, so many further ones, and one more where no high cut can be had. */
const countsOf = ({ highCut, pilotCut }: Movers, { highCuts }: Candidates, spareSlots: number): CutCounts => {
  const besideHighCut = pilotCut === null ? 0 : (pilotCut.isMoved ? 1 : 0) + spareSlots;
  const insteadOfHighCut = besideHighCut + (pilotCut !== null && highCut !== null ? 1 : 0);
  return { besideHighCut, alone: highCuts.length === 0 ? insteadOfHighCut : besideHighCut, insteadOfHighCut };
};

const unprovedOf = ({ open: { pilotDb, lossDb } }: Chosen): Pick<FitOutcome, 'unproved'> =>
  pilotDb > closeEnoughDb || lossDb > closeEnoughDb
    ? { unproved: { missedAtMostDb: pilotDb, overspentAtMostDb: lossDb } }
    : {};

/** What the choice leaves out or changes of what was asked. */
const toldOf = (
  given: readonly Given[],
  { highCut, pilotCut }: Movers,
  candidates: Candidates,
  context: FitContext,
): readonly Shortcoming[] => {
  const { desk, slots } = context;
  const served = new Set(given.map(({ placed }) => placed.asked));
  const missing = (intent: Intent | null, couldBe: boolean): readonly Shortcoming[] =>
    intent === null || served.has(intent)
      ? []
      : [couldBe ? { kind: 'left-out', intent } : { kind: 'no-place', intent, slotsFree: slots.length }];
  const hasType = ({ type }: Intent): boolean =>
    [...candidates.highCuts, ...candidates.pilotCuts].some(({ slotType }) => slotType.type === type);
  return [
    ...missing(pilotCut?.isMoved ? pilotCut.asked : null, candidates.pilotCuts.length > 0),
    ...missing(highCut, candidates.highCuts.length > 0),
    ...given.flatMap((each) => shortcomingsOf(each, desk.target.display, hasType(each.placed.asked))),
  ];
};

const inDeskOrder = (
  filters: readonly PlacedFilter[],
  slots: readonly DeskSlot[],
): readonly PlacedFilter[] => {
  const order = new Map(slots.map(({ id }, index) => [id, index]));
  return [...filters].sort((a, b) => (order.get(a.slot) ?? 0) - (order.get(b.slot) ?? 0));
};

/** Filters that stay, and what of them is otherwise than asked. */
type Placed = Pick<FitOutcome, 'filters' | 'shortcomings'>;

/** What a search came to beside filters that stay. */
interface Solved {
  readonly placed: Placed;
  readonly candidates: Candidates;
  readonly climbed: Climbed;
}

const solve = (
  placed: Placed,
  movers: Movers,
  { desk, slots, spareSlots }: FitContext,
  { scope, lossLimits }: GuardTask,
): Solved => {
  const fixed = placed.filters;
  const free = slots.filter(({ id }) => !fixed.some(({ slot }) => slot === id));
  const candidates = candidatesOf(movers, slotClasses(free));
  const space = makeSearchSpace({
    candidates,
    fixed: fixed.map(({ type, set }) => placedFilter(type, set)),
    realisations: desk.target.realisations,
    scope,
    usualLossDb: lossLimits.usualDb,
  });
  const counts = countsOf(movers, candidates, spareSlots);
  const climbed = climbLadder(space, counts, lossLimits, scope.pilotAttenuationAtLeastDb);
  if (!climbed) throw new RangeError('no setting at all was found, not even none');
  return { placed, candidates, climbed };
};

const attenuationOf = ({ climbed }: Solved): number => climbed.chosen.found.pilotAttenuationDb;

/**
 * The best of a search beside filters as nearest puts them and, where that leaves the pilot less than asked and no limit
 * was stated, beside them with the derived low cut elsewhere: it guards no pilot, and where it is in the way it goes to
 * another slot, or nowhere.
 */
const solveBest = (plain: Placed, movers: Movers, context: FitContext, task: GuardTask): Solved => {
  const first = solve(plain, movers, context, task);
  const askedDb = task.scope.pilotAttenuationAtLeastDb - roundingDb;
  const low = plain.filters.find(({ role, asked }) => role === 'low-cut' && asked.mayMove);
  if (!low || task.lossLimits.isHard || attenuationOf(first) >= askedDb) return first;
  const others: Placed = {
    filters: plain.filters.filter((placed) => placed !== low),
    shortcomings: plain.shortcomings.filter(({ intent }) => intent !== low.asked),
  };
  const free = context.slots.filter(({ id }) => !others.filters.some(({ slot }) => slot === id));
  const elsewhere = slotClasses(free)
    .filter((each) => !each.slots.some(({ id }) => id === low.slot))
    .map(({ slots }) => nearest.fit([low.asked], { ...context, slots: slots.slice(0, 1) }))
    .filter(({ filters }) => filters.length > 0);
  const nowhere: Placed = { filters: [], shortcomings: [{ kind: 'left-out', intent: low.asked }] };
  return [...elsewhere, nowhere].reduce((best, { filters, shortcomings }) => {
    if (attenuationOf(best) >= askedDb) return best;
    const placed: Placed = {
      filters: [...others.filters, ...filters],
      shortcomings: [...others.shortcomings, ...shortcomings],
    };
    const other = solve(placed, movers, context, task);
    // However little more: with a threshold a slot more could be worse than a slot less.
    return attenuationOf(other) > attenuationOf(best) + roundingDb ? other : best;
  }, first);
};

const fitProtective = (intents: readonly Intent[], context: FitContext): FitOutcome => {
  const { desk, slots, guard } = context;
  const plain = nearest.fit(intents, context);
  const movers = moversOf(intents);
  if (!guard || (!movers.highCut && !movers.pilotCut)) return plain;

  const moves = (intent: Intent): boolean =>
    intent === movers.highCut || (movers.pilotCut?.isMoved === true && intent === movers.pilotCut.asked);
  const stays: Placed = {
    filters: plain.filters.filter(({ asked }) => !moves(asked)),
    shortcomings: plain.shortcomings.filter(({ intent }) => !moves(intent)),
  };
  const { placed, candidates, climbed } = solveBest(stays, movers, context, guard);

  const givenOf = ({ found }: Chosen) => giveSlots(found, candidates, movers, desk.target.display);
  const allFilters = (made: readonly Given[]) =>
    inDeskOrder([...placed.filters, ...made.map(({ placed }) => placed)], slots);
  const given = givenOf(climbed.chosen);
  const alternative: Alternative | null = climbed.alternative && {
    kind: climbed.alternative.kind,
    withinDb: db(climbed.alternative.chosen.withinDb),
    isHadByLimit: !climbed.isWithoutHighCut && placed === stays && guard.lossLimits.ownDb === 0,
    filters: allFilters(givenOf(climbed.alternative.chosen)),
  };
  return {
    filters: allFilters(given),
    shortcomings: [...placed.shortcomings, ...toldOf(given, movers, candidates, context)],
    alternative,
    ...unprovedOf(climbed.chosen),
  };
};

/**
 * The steps that guard the pilot first and the music second, whatever way the desk builds its filters: the derived high
 * cut and pilot cut move together, over all kinds of setting, slots, frequencies within a third of an octave, widths
 * and gains; everything else stays where nearest puts it. The choice is proved to be the best, or the outcome says how
 * much better one may be (see `ladder.ts` for what best means, `search/search.ts` and `bounds/` for the proof).
 */
export const protect: Fit = {
  name: 'protect',
  summary: 'the steps that together attenuate the pilot most for the music they may cost',
  needsGuard: true,
  isDefaultFor: ['rig'],
  comparedWith: nearest,
  mayTakeLong: ({ spareSlots }) => spareSlots > 0,
  fit: fitProtective,
};
