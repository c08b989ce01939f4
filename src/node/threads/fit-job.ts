import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { HeardOnDesk, HearWishes } from '../../analysis/hear.js';
import type { ProtectionOnDesk, Tradeoff } from '../../analysis/tradeoff.js';
import type { FitName } from '../../fitting/fit.js';
import { defaultFitFor, fitNamed } from '../../fitting/registry.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import type { Desk } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import { makeDesk } from '../../model/make-desk.js';
import type { Outcome, Problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import type { Rig } from '../../model/rig.js';
import type { Target } from '../../model/target.js';
import { makeRecipe } from '../../recipes/make-recipe.js';
import type { Result } from '../../units/result.js';
import { loadQuantiserKinds } from '../load-quantiser.js';
import { packageRoot } from '../package.js';
import { type PoolOptions, runOnThreads } from './pool.js';

/** A desk whose grids are known to be good, as it can be copied to a thread: grids are functions, and made again there. */
interface OnDesk {
  readonly target: Target;
  /** Modules with kinds of grid of the user's own. */
  readonly quantiserFiles: readonly string[];
  readonly spareSlots: number;
}

/** A rig to fit. */
export interface FitJob extends OnDesk {
  readonly rig: Rig;
  /** The one that is the default for rigs, unless named. */
  readonly fit?: FitName;
}

/** Filters that protect one pilot, with all of the desk to set them on. */
export interface ProtectionJob extends OnDesk {
  readonly intents: readonly Intent[];
  readonly scope: GuardScope;
}

export interface HearJob extends ProtectionJob {
  readonly wishes: HearWishes;
}

/** Work that may take long, by name: what is asked, and what it gives. */
interface Work {
  readonly recipe: { readonly asked: FitJob; readonly given: Outcome<Recipe> };
  readonly tradeoff: { readonly asked: ProtectionJob; readonly given: Tradeoff };
  readonly hear: { readonly asked: HearJob; readonly given: Outcome<HeardOnDesk> };
}

type WorkName = keyof Work;

/** One piece of work as a thread is asked for it. */
interface Asked<Name extends WorkName> {
  readonly work: Name;
  readonly asked: Work[Name]['asked'];
}

const good = <Value>(outcome: Result<Value, readonly Problem[]>): Value => {
  if (outcome.ok) return outcome.value;
  throw new Error(`what was good before is not on another thread: ${JSON.stringify(outcome.error)}`);
};

const deskOf = async ({ target, quantiserFiles }: OnDesk): Promise<Desk> =>
  good(makeDesk(target, good(await loadQuantiserKinds(quantiserFiles))));

const protectionOf = async ({ intents, scope, ...onDesk }: ProtectionJob): Promise<ProtectionOnDesk> => {
  const desk = await deskOf(onDesk);
  return { intents, context: { desk, slots: desk.slots, scope, spareSlots: onDesk.spareSlots } };
};

const byName: { readonly [Name in WorkName]: (asked: Work[Name]['asked']) => Promise<Work[Name]['given']> } =
  {
    recipe: async ({ rig, fit: name, ...onDesk }) => {
      const fit = name === undefined ? defaultFitFor('rig') : fitNamed(name);
      return makeRecipe(rig, await deskOf(onDesk), { fit, spareSlots: onDesk.spareSlots });
    },
    tradeoff: async (job) => {
      const { intents, context } = await protectionOf(job);
      return (await import('../../analysis/tradeoff.js')).tradeoff(intents, context);
    },
    hear: async ({ wishes, ...job }) =>
      (await import('../../analysis/hear.js')).hearOnDesk(await protectionOf(job), wishes),
  };

/** Does one piece of work, on the thread it is called on. */
export const doWork = <Name extends WorkName>({ work, asked }: Asked<Name>): Promise<Work[Name]['given']> =>
  byName[work](asked);

/** The module that serves such work, as it is built. */
const module = (): URL => pathToFileURL(join(packageRoot(), 'dist', 'program', 'fit-worker.cjs'));

/**
 * Does work of one kind on threads, as many as may be: results in the order they were asked for. This thread hears
 * interrupts at once, however long it takes.
 */
export const onThreads = <Name extends WorkName>(
  work: Name,
  jobs: readonly Work[Name]['asked'][],
  options: PoolOptions,
): Promise<readonly Work[Name]['given'][]> =>
  runOnThreads<Asked<Name>, Work[Name]['given']>(
    module(),
    jobs.map((asked) => ({ work, asked })),
    options,
  );

/** One piece of work, on a thread of its own. */
export const onThread = async <Name extends WorkName>(
  work: Name,
  asked: Work[Name]['asked'],
): Promise<Work[Name]['given']> => {
  const [given] = await onThreads(work, [asked], { threads: 1 });
  if (given === undefined) throw new Error('a job has no result');
  return given;
};
