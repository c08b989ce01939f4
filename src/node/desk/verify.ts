import { type OtherName, otherNamesOf } from '../../live/write/names.js';
import { type RecipeOutcome, recipeOutcome } from '../../live/write/report.js';
import { type VerifiedMix, verifyMix } from '../../live/write/verify.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import { type DeskOptions, readDesk } from './open-desk.js';
import { planRecipe, type RecipeChoice } from './push.js';

export interface VerifyOptions extends RecipeChoice, DeskOptions {}

/** Whether a desk still stands as a recipe set it. */
export interface VerifyReport {
  readonly purpose: 'verify';
  /** `interrupted`: no mix is told of. */
  readonly result: 'done' | 'falls-short' | 'interrupted';
  readonly desk: Journal['desk'];
  readonly mixes: readonly (VerifiedMix & Partial<RecipeOutcome>)[];
  readonly problems: readonly Problem[];
  /** Outputs that go by another name on the desk than in the recipe: they may be somebody else's. */
  readonly otherNames: readonly OtherName[];
}

/**
 * Reads a desk and tells, mix by mix, whether it still stands as a recipe set it. It writes nothing. Problems: those of
 * `planRecipe` and `readDesk`; `nothing-to-verify` where every mix is left alone.
 */
export const verify = async (options: VerifyOptions): Promise<Outcome<VerifyReport>> => {
  const plan = await planRecipe(options);
  if (!plan.ok) return plan;
  const { recipe, desk, plans } = plan.value;
  if (plans.length === 0) {
    const told =
      'The recipe has no mix that would be written to, so there is nothing to compare a desk with.';
    return fail([problem('nothing-to-verify', 'mixes', told)]);
  }
  const read = await readDesk(plans, desk, options);
  if (!read.ok) return read;
  const { mixes: surveyed, at } = read.value;
  const verified = (surveyed ?? []).map((mix) => {
    const made = recipe.mixes.find(({ name }) => name === mix.plan.name);
    return { ...verifyMix(mix, desk), ...(made ? recipeOutcome(made) : {}) };
  });
  const isGood = verified.every(({ state }) => state === 'holds');
  return ok({
    purpose: 'verify',
    result: surveyed === null ? 'interrupted' : isGood ? 'done' : 'falls-short',
    desk: at,
    mixes: verified,
    otherNames: (surveyed ?? []).flatMap(otherNamesOf),
    // What a recipe does not set need not be known for it to hold.
    problems: (surveyed ?? []).flatMap(({ problems }, index) =>
      verified[index]?.state === 'holds' ? [] : problems,
    ),
  });
};
