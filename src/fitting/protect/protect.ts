import type { DeskSlot } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import type { Band } from '../../model/recipe.js';
import { db } from '../../units/quantity.js';
import type { Alternative, Fit, FitContext, FitOutcome, Shortcoming } from '../fit.js';
import type { GuardTask } from '../guard-task.js';
import { nearest } from '../nearest.js';
import { placedFilter } from '../placement.js';
import { slotClasses } from '../slot-classes.js';
import { type Given, giveSlots } from './bands.js';
import { type Chosen, type Climbed, climbLadder } from './ladder.js';
import { type Movers, moversOf } from './movers.js';
import { closeEnoughDb } from './search/search.js';
import type { CutCounts } from './search/search-counts.js';
import { shortcomingsOf } from './shortcomings.js';
import { type Candidates, candidatesOf } from './space/candidates.js';
import { asideAbove, equalDb } from './space/limits.js';
import { makeSearchSpace } from './space/search-space.js';

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
  const served = new Set(given.map(({ band }) => band.asked));
  const missing = (intent: Intent | null, couldBe: boolean): readonly Shortcoming[] =>
    intent === null || served.has(intent)
      ? []
      : [couldBe ? { kind: 'left-out', intent } : { kind: 'no-place', intent, slotsFree: slots.length }];
  const hasType = ({ type }: Intent): boolean =>
    [...candidates.highCuts, ...candidates.pilotCuts].some(({ slotType }) => slotType.type === type);
  return [
    ...missing(pilotCut?.isMoved ? pilotCut.asked : null, candidates.pilotCuts.length > 0),
    ...missing(highCut, candidates.highCuts.length > 0),
    ...given.flatMap((each) => shortcomingsOf(each, desk.target.display, hasType(each.band.asked))),
  ];
};

const inDeskOrder = (bands: readonly Band[], slots: readonly DeskSlot[]): readonly Band[] => {
  const order = new Map(slots.map(({ id }, index) => [id, index]));
  return [...bands].sort((a, b) => (order.get(a.slot) ?? 0) - (order.get(b.slot) ?? 0));
};

/** What a search came to beside filters that stay. */
interface Solved {
  readonly fixed: readonly Band[];
  readonly candidates: Candidates;
  readonly climbed: Climbed;
}

const solve = (
  fixed: readonly Band[],
  movers: Movers,
  { desk, slots, spareSlots }: FitContext,
  { scope, lossLimits }: GuardTask,
): Solved => {
  const free = slots.filter(({ id }) => !fixed.some(({ slot }) => slot === id));
  const candidates = candidatesOf(movers, slotClasses(free));
  const space = makeSearchSpace({
    candidates,
    fixed: fixed.map(({ type, set }) => placedFilter(type, set)),
    realisations: desk.target.realisations,
    scope,
    keepAside: asideAbove(lossLimits.usualDb),
  });
  const counts = countsOf(movers, candidates, spareSlots);
  const climbed = climbLadder(space, counts, lossLimits, scope.pilotAttenuationAtLeastDb);
  if (!climbed) throw new RangeError('no setting at all was found, not even none');
  return { fixed, candidates, climbed };
};

const attenuationOf = ({ climbed }: Solved): number => climbed.chosen.found.pilotAttenuationDb;

/**
 * The best of a search beside filters as nearest puts them and, where that leaves the pilot less than asked and no limit
 * was stated, beside them with the derived low cut elsewhere: it guards no pilot, and where it is in the way it goes to
 * another slot, or nowhere.
 */
const solveBest = (plain: readonly Band[], movers: Movers, context: FitContext, task: GuardTask): Solved => {
  const first = solve(plain, movers, context, task);
  const askedDb = task.scope.pilotAttenuationAtLeastDb - equalDb;
  const low = plain.find(({ role, asked }) => role === 'low-cut' && asked.mayMove);
  if (!low || task.lossLimits.isHard || attenuationOf(first) >= askedDb) return first;
  const others = plain.filter((band) => band !== low);
  const free = context.slots.filter(({ id }) => !others.some(({ slot }) => slot === id));
  const elsewhere = slotClasses(free)
    .filter((each) => !each.slots.some(({ id }) => id === low.slot))
    .map(({ slots }) => nearest.fit([low.asked], { ...context, slots: slots.slice(0, 1) }).bands);
  return [...elsewhere.filter((bands) => bands.length > 0), []].reduce((best, bands) => {
    if (attenuationOf(best) >= askedDb) return best;
    const other = solve([...others, ...bands], movers, context, task);
    return attenuationOf(other) > attenuationOf(best) + equalDb ? other : best;
  }, first);
};

const fitProtective = (intents: readonly Intent[], context: FitContext): FitOutcome => {
  const { desk, slots, guard } = context;
  const plain = nearest.fit(intents, context);
  const movers = moversOf(intents);
  if (!guard || (!movers.highCut && !movers.pilotCut)) return plain;

  const moves = (intent: Intent): boolean =>
    intent === movers.highCut || (movers.pilotCut?.isMoved === true && intent === movers.pilotCut.asked);
  const stays = plain.bands.filter(({ asked }) => !moves(asked));
  const { fixed, candidates, climbed } = solveBest(stays, movers, context, guard);
  const displaced = stays.filter(({ asked }) => !fixed.some((band) => band.asked === asked));

  const bandsOf = ({ found }: Chosen) => giveSlots(found, candidates, movers, desk.target.display);
  const allBands = (made: readonly Given[]) =>
    inDeskOrder([...fixed, ...made.map(({ band }) => band)], slots);
  const given = bandsOf(climbed.chosen);
  const alternative: Alternative | null = climbed.alternative && {
    kind: climbed.alternative.kind,
    withinDb: db(climbed.alternative.chosen.withinDb),
    isHadByLimit: !climbed.isWithoutHighCut && displaced.length === 0 && guard.lossLimits.ownDb === 0,
    bands: allBands(bandsOf(climbed.alternative.chosen)),
  };
  return {
    bands: allBands(given),
    shortcomings: [
      ...plain.shortcomings.filter(({ intent }) => !moves(intent)),
      ...displaced.map(({ asked }) => ({ kind: 'left-out', intent: asked }) as const),
      ...toldOf(given, movers, candidates, context),
    ],
    alternative,
    ...unprovedOf(climbed.chosen),
  };
};

/**
 * The steps that guard the pilot first and the music second, whatever way the desk builds its filters: the derived high
 * cut and pilot cut move together, over all kinds of setting, slots, frequencies within a third of an octave, widths
 * and gains; everything else stays where nearest puts it. The choice is proved to be the best, or the outcome says how
 * much better one may be (see `ladder.ts` for what best means, `search/search.ts` for the proof).
 */
export const protect: Fit = {
  name: 'protect',
  summary: 'the steps that together attenuate the pilot most for the music they may cost',
  fit: fitProtective,
};
