import { guardHolds } from '../../guard/guard-figures.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Desk } from '../../model/desk.js';
import type { Guard, RecipeMix } from '../../model/recipe.js';
import { type Db, db } from '../../units/quantity.js';
import { effectsFor } from '../inspect/pilot-findings.js';
import { standingFilter } from '../inspect/standing-filter.js';
import type { SurveyedSlot } from '../write/survey.js';

/** What a recipe's own slots do as they stand: the worst over outputs and over the ways the desk may build filters. */
export interface StandingGuard {
  readonly pilotAttenuationDb: Db;
  readonly keepLossDb: Db;
  readonly riseDb: Db;
  readonly verdict: Guard['verdict'];
}

/** What slots do as they stand; null where something is not known, or there is no pilot to guard. */
export type JudgeSlots = (slots: readonly SurveyedSlot[]) => StandingGuard | null;

/** A recipe's guard as what figures are worked out over. The encoder has no part in these. */
const scopeOf = ({ limits, ...judged }: Guard): GuardScope => ({
  ...judged,
  ...limits,
  encoder: [],
  isKeepLossStated: limits.keepLossAsAskedDb === null,
});

/** Judges what stands in the slots of a mix by the limits its recipe tells. */
export const judgeBy = ({ guard }: Pick<RecipeMix, 'guard'>, desk: Desk): JudgeSlots => {
  if (guard === null) return () => null;
  const scope = scopeOf(guard);
  const effects = effectsFor(desk.target.realisations, scope);
  return (slots) => {
    const standing = slots.map(({ plan, found }) => ({
      output: plan.output,
      ...standingFilter(plan, found, desk),
    }));
    if (standing.some(({ state }) => state === 'not-known')) return null;
    const chains = [...new Set(standing.map(({ output }) => output))].map((output) =>
      standing.flatMap((each) => (each.output === output && each.state === 'acts' ? [each.filter] : [])),
    );
    const figures = {
      pilotAttenuationDb: db(Math.min(...chains.map(effects.pilotDb))),
      keepLossDb: db(Math.max(...chains.map(effects.lossDb))),
      riseDb: db(Math.max(...chains.map(effects.riseDb))),
    };
    return { ...figures, verdict: guardHolds(figures, scope) ? 'met' : 'falls-short' };
  };
};
