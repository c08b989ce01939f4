import type { Intent } from '../../model/intent.js';
import { db } from '../../units/quantity.js';
import type { Fit, FitContext, FitOutcome, Shortcoming } from '../fit.js';
import { nearest } from '../nearest.js';
import { placedFilter } from '../placement.js';
import { giveSlots } from './bands.js';
import { type Surroundings, searchWithinLimit, type WithinLimit } from './keep-limit.js';
import { type Attempt, attemptsOf } from './line-ups.js';
import { moversOf } from './movers.js';
import { usualPatience } from './patience.js';
import { shortcomingsOf } from './shortcomings.js';
import { slotClasses } from './slot-classes.js';

/** An attempt that came to something. */
interface Success {
  readonly attempt: Attempt;
  readonly within: WithinLimit;
}

/** The first attempt that comes to something within the limits. */
const firstSuccess = (
  attempts: readonly Attempt[],
  around: Surroundings,
  mostCuts: number,
): Success | null => {
  for (const attempt of attempts) {
    const within = searchWithinLimit(attempt, around, mostCuts);
    if (within) return { attempt, within };
  }
  return null;
};

const unprovedOf = ({ attempt, within }: Success): Pick<FitOutcome, 'unproved'> => {
  const { found, openDb } = within;
  const missedAtMostDb = Math.max(0, openDb - found.pilotAttenuationDb);
  const thinned = attempt.lineUps.some(({ highCuts, pilotCuts }) =>
    [...highCuts, ...pilotCuts].some((lattice) => lattice.thinned),
  );
  return missedAtMostDb > 0.005 || thinned ? { unproved: { missedAtMostDb, thinned } } : {};
};

const keepLimitOf = (intent: Intent, askedDb: number, { stretched }: WithinLimit): readonly Shortcoming[] =>
  stretched
    ? [
        {
          kind: 'keep-limit',
          intent,
          askedDb: db(askedDb),
          heldToDb: db(stretched.heldToDb),
          leastDb: stretched.leastDb === null ? null : db(stretched.leastDb),
          othersDb: stretched.othersDb === null ? null : db(stretched.othersDb),
        },
      ]
    : [];

const fitProtective = (intents: readonly Intent[], context: FitContext): FitOutcome => {
  const { desk, slots, scope, spareSlots } = context;
  const plain = nearest.fit(intents, context);
  const movers = moversOf(intents);
  const moving = movers.pilotCut ?? movers.highCut;
  if (!scope || !moving) return plain;

  const moves = (intent: Intent): boolean => intent === movers.highCut || intent === movers.pilotCut;
  const fixed = plain.bands.filter(({ asked }) => !moves(asked));
  const free = slots.filter(({ id }) => !fixed.some(({ slot }) => slot === id));
  const attempts = attemptsOf(movers, slotClasses(free), scope);
  const around = {
    fixed: fixed.map(({ type, set }) => placedFilter(type, set)),
    realisations: desk.target.realisations,
    scope,
    patience: usualPatience(),
  };
  const success = firstSuccess(attempts, around, 1 + spareSlots);
  const { display } = desk.target;
  // Where not even one of the two keeps within the limits, both are better left out than harmful.
  const given = success ? giveSlots(success.within.found, movers, display) : [];
  const order = new Map(slots.map(({ id }, index) => [id, index]));
  const bands = [...fixed, ...given.map(({ band }) => band)].sort(
    (a, b) => (order.get(a.slot) ?? 0) - (order.get(b.slot) ?? 0),
  );
  const unserved = intents.filter((intent) => moves(intent) && !bands.some(({ asked }) => asked === intent));
  const hasType = ({ type }: Intent): boolean =>
    (success?.attempt.lineUps ?? []).some(({ highCuts, pilotCuts }) =>
      [...highCuts, ...pilotCuts].some(({ slotType }) => slotType.type === type),
    );
  return {
    bands,
    shortcomings: [
      ...plain.shortcomings.filter(({ intent }) => !moves(intent)),
      ...unserved.map((intent) => ({ kind: 'no-place', intent, slotsFree: slots.length }) as const),
      ...given.flatMap((each) => shortcomingsOf(each, display, hasType(each.band.asked))),
      ...(success ? keepLimitOf(moving, scope.keepLossAtMostDb, success.within) : []),
    ],
    ...(success ? unprovedOf(success) : {}),
  };
};

/**
 * The steps that attenuate the pilot most, whatever way the desk builds its filters, while the music keeps
 * within its limit and nothing rises: high cut and pilot cut move together, over all their slots, frequencies,
 * widths and gains; everything else is fitted by nearest. The choice is proved to be the best, or the outcome
 * says what is not (see `search.ts`).
 */
export const protect: Fit = {
  name: 'protect',
  summary: 'the steps that together attenuate the pilot most for the music they may cost',
  fit: fitProtective,
};
