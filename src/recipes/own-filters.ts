import { buildChain } from '../filters/build.js';
import type { Realisation } from '../filters/realisation.js';
import { placedFilter } from '../fitting/placement.js';
import { keepLossDb, riseDb } from '../guard/guard-figures.js';
import type { GuardScope } from '../guard/guard-scope.js';
import { type Problem, problem } from '../model/problem.js';
import type { Guard, PlacedFilter } from '../model/recipe.js';
import { filterPhrase } from '../model/words.js';

/** A limit, what one filter alone comes to in the worst way of building it, and what is to be done where that is more. */
interface Judged {
  readonly code: string;
  readonly figureDb: number;
  readonly wholeDb: number;
  readonly limitDb: number;
  readonly does: string;
  readonly change: string;
}

const judge = (
  { type, set }: PlacedFilter,
  realisations: readonly Realisation[],
  scope: GuardScope,
  { worst }: Guard,
): readonly Judged[] => {
  const chains = realisations.map((each) => ({
    chain: buildChain([placedFilter(type, set)], each),
    sampleRateHz: each.sampleRateHz,
  }));
  return [
    {
      code: 'own-filter-loses',
      figureDb: Math.max(...chains.map(({ chain }) => keepLossDb(chain, scope))),
      wholeDb: worst.keepLossDb,
      limitDb: scope.keepLossAtMostDb,
      does: 'takes up to',
      change: 'Ask for less of it, or allow more music to be lost.',
    },
    {
      code: 'own-filter-raises',
      figureDb: Math.max(...chains.map(({ chain, sampleRateHz }) => riseDb(chain, sampleRateHz))),
      wholeDb: worst.riseDb,
      limitDb: scope.riseAtMostDb,
      does: 'adds up to',
      change: 'Ask for less of it; where it is meant, push it with --allow-rise, and start low.',
    },
  ];
};

/**
 * The filters that a person wrote and that break a limit all alone: they are set as asked, and whatever else is chosen, no
 * guard can be met beside them.
 */
export const ownFilterProblems = (
  filters: readonly PlacedFilter[],
  realisations: readonly Realisation[],
  scope: GuardScope,
  guard: Guard,
  path: string,
): readonly Problem[] =>
  filters
    .filter(({ asked }) => asked.mayMove !== true)
    .flatMap((placed) =>
      judge(placed, realisations, scope, guard)
        .filter(({ figureDb, wholeDb, limitDb }) => Math.min(figureDb, wholeDb) > limitDb)
        .map(({ code, figureDb, limitDb, does, change }) =>
          problem(
            code,
            path,
            `Asked: ${filterPhrase(placed.asked)}. Slot ${placed.slot} is set to it, and that alone ${does} ${figureDb.toFixed(1)} dB, at most ${limitDb.toFixed(1)} dB asked: no guard is met beside it. ${change}`,
          ),
        ),
    );
