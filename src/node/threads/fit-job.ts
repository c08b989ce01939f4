import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { protect } from '../../fitting/protect/protect.js';
import { makeDesk } from '../../model/make-desk.js';
import type { Outcome, Problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { Rig } from '../../model/rig.js';
import type { Target } from '../../model/target.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import type { Result } from '../../units/result.js';
import { loadQuantiserKinds } from '../load-quantiser.js';
import { packageRoot } from '../package-root.js';
import { runOnThreads } from './pool.js';

/** A rig to fit on a target whose grids are known to be good. */
export interface FitJob {
  readonly rig: Rig;
  readonly target: Target;
  /** Modules with kinds of grid of the user's own. */
  readonly quantiserFiles: readonly string[];
  readonly spareSlots: number;
}

/** Grids are functions and cannot be copied to a thread: it makes them again. */
const good = <Value>(outcome: Result<Value, readonly Problem[]>): Value => {
  if (outcome.ok) return outcome.value;
  throw new Error(`what was good before is not on another thread: ${JSON.stringify(outcome.error)}`);
};

/** The recipe of one job, by the protective fit. Fails as `makeRecipe` does. */
export const fitJob = async ({
  rig,
  target,
  quantiserFiles,
  spareSlots,
}: FitJob): Promise<Outcome<Recipe>> => {
  const kinds = good(await loadQuantiserKinds(quantiserFiles));
  return makeRecipe(rig, good(makeDesk(target, kinds)), { fit: protect, spareSlots });
};

/** The module that serves such jobs, as it is built. */
export const fitWorker = (): URL => pathToFileURL(join(packageRoot(), 'dist', 'program', 'fit-worker.cjs'));

/** One job on a thread of its own, so that this one hears interrupts at once however long it takes. */
export const fitOnThread = async (job: FitJob): Promise<Outcome<Recipe>> => {
  const [recipe] = await runOnThreads<FitJob, Outcome<Recipe>>(fitWorker(), [job], { threads: 1 });
  if (!recipe) throw new Error('a job has no result');
  return recipe;
};
