import { guardScope } from '../../guard/guard-scope.js';
import type { Problem } from '../../model/problem.js';
import { usualPilotHz } from '../../model/protection.js';
import type { Rig } from '../../model/rig.js';
import type { Target } from '../../model/target.js';
import { guardedSystems } from '../../recipes/rig-on-desk.js';
import { guardOptionProblem } from './guard-option-problem.js';
import { type GuardOptions, guardWishes } from './guard-options.js';

/** What makes no sense in the guard asked for on the command line, for any pilot of a rig. */
export const rigGuardProblem = (
  options: GuardOptions,
  rig: Rig,
  { target }: { readonly target: Pick<Target, 'id' | 'realisations'> },
): Problem | null => {
  const problems = guardedSystems(rig).map(({ system: { pilotHz = usualPilotHz } }) => {
    const scope = guardScope(pilotHz, { ...rig.guard, ...guardWishes(options) });
    return guardOptionProblem(options, scope, target);
  });
  return problems.find((each) => each !== null) ?? null;
};
