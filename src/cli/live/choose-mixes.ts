import type { MixPlan } from '../../live/plan/plan.js';
import { type Outcome, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { didYouMean } from '../../units/suggest.js';

/** The mixes that --only names, or all of them. */
export const chooseMixes = (
  plans: readonly MixPlan[],
  only: readonly string[] | undefined,
): Outcome<readonly MixPlan[]> => {
  if (only === undefined) return ok(plans);
  const names = plans.map(({ name }) => name);
  const strange = only.find((name) => !names.includes(name));
  if (strange !== undefined) {
    const told = `There is no mix ${quote(strange)} to write to${didYouMean(strange, names) || '.'} There are: ${names.map((name) => quote(name)).join(', ')}.`;
    return fail([problem('usage', '--only', told)]);
  }
  return ok(plans.filter(({ name }) => only.includes(name)));
};
