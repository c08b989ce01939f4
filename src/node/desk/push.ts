import { readRecipe } from '../../documents/read.js';
import { chooseMixes, type MixPlan } from '../../live/plan/plan.js';
import { planPush, rises } from '../../live/plan/plan-push.js';
import { messagesFor } from '../../live/write/dry-run.js';
import type { Desk } from '../../model/desk.js';
import { type Outcome, problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';
import { canBeAsked } from '../../osc/asking.js';
import type { OscMessage } from '../../osc/message.js';
import { quote } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { readGiven } from '../read-input.js';
import { loadDesk } from '../targets.js';
import { type DeskOptions, readDesk } from './open-desk.js';
import { type WriteOptions, type WriteReport, writeDesk } from './write-desk.js';

/** A recipe, and the desk it is meant for. */
export interface RecipeChoice {
  /** A recipe, or its text: JSON or XML. */
  readonly recipe: Recipe | string | Uint8Array;
  /** What the recipe is called in problems: a file's name. */
  readonly source?: string;
  /** The id of a shipped target, a target's file, or a desk; where left out the shipped target the recipe names. */
  readonly target?: string | Desk;
  /** The names of the mixes that are meant; all of them where left out. */
  readonly only?: readonly string[];
}

export interface PushOptions extends RecipeChoice, WriteOptions {
  /** Lets filters be sent that raise a level. */
  readonly allowRise?: boolean;
  /** Lets outputs go by other names on the desk than in the recipe. */
  readonly acceptNames?: boolean;
  /** Lets a desk be written to that cannot be read: nothing of it is kept, and nothing proved. */
  readonly blind?: boolean;
}

/** A recipe on a desk, and what it wants there. */
export interface PlannedRecipe {
  readonly recipe: Recipe;
  readonly desk: Desk;
  readonly plans: readonly MixPlan[];
}

const usualSource = 'the recipe';

/** The desk of a recipe: the one asked for, or the shipped one it was made for. */
export const recipeDesk = async (
  { target: { id } }: Recipe,
  target: string | undefined,
  quantiserModules: readonly string[],
): Promise<Outcome<Desk>> => {
  const desk = await loadDesk(target ?? id, quantiserModules);
  if (desk.ok || target !== undefined || desk.error[0]?.code !== 'target-unknown') return desk;
  const told = `The recipe was made for ${quote(id)}, which is no shipped target. Give its file, as in ./our-desk.json.`;
  return fail([problem('target-unknown', 'target', told)]);
};

/** Settles what a recipe wants on its desk. Problems: what is wrong with the recipe, the target, or `only`. */
export const planRecipe = async (options: RecipeChoice): Promise<Outcome<PlannedRecipe>> => {
  const { source = usualSource } = options;
  const read = readGiven(options.recipe, source, readRecipe);
  if (!read.ok) return read;
  const recipe = read.value;
  const { target } = options;
  const desk = typeof target === 'object' ? ok(target) : await recipeDesk(recipe, target, []);
  if (!desk.ok) return desk;
  const all = planPush(recipe, desk.value);
  if (!all.ok) return fail(all.error.map((each) => ({ source, ...each })));
  const plans = chooseMixes(all.value, options.only);
  return plans.ok ? ok({ recipe, desk: desk.value, plans: plans.value }) : plans;
};

const chosenMixes = ({ recipe, plans }: PlannedRecipe) =>
  recipe.mixes.filter(({ name }) => plans.some((plan) => plan.name === name));

/** What is to be pushed, once it has been seen that nothing is raised. */
const planned = async (options: PushOptions | DryRunOptions): Promise<Outcome<PlannedRecipe>> => {
  const plan = await planRecipe(options);
  if (!plan.ok || options.allowRise) return plan;
  const raised = rises({ ...plan.value.recipe, mixes: chosenMixes(plan.value) }, plan.value.desk);
  const { source = usualSource } = options;
  return raised.length === 0 ? plan : fail(raised.map((each) => ({ source, ...each })));
};

/**
 * Writes a recipe to a desk: reads what stands there, compares names, asks, keeps what was found in a journal, writes in
 * an order that makes no noise, reads every value back, and tells how each mix was left. Nothing is sent where a level
 * would be raised, and nothing written without a journal, unless that is asked for. Problems: those of `planRecipe` and
 * `writeDesk`, `raises-level`, `usage`.
 */
export const push = async (options: PushOptions): Promise<Outcome<WriteReport>> => {
  const plan = await planned(options);
  if (!plan.ok) return plan;
  const { recipe, desk, plans } = plan.value;
  if (!canBeAsked(desk.target) && !options.blind) {
    const told = `The target ${quote(desk.target.id)} cannot be read back: what stands there cannot be kept, and nothing can be proved. Ask for it to be written to all the same, or dial by hand.`;
    return fail([problem('usage', 'blind', told)]);
  }
  if (plans.length === 0) {
    return ok({ purpose: 'push', result: 'done', desk: null, journal: null, mixes: [], problems: [] });
  }
  const acceptNames = options.acceptNames === true;
  const recipeMixes = chosenMixes(plan.value);
  const { title } = recipe.rig;
  const blind = options.blind === true;
  return writeDesk({ purpose: 'push', title, desk, plans, acceptNames, blind, recipeMixes }, options);
};

export interface DryRunOptions extends RecipeChoice, DeskOptions {
  readonly allowRise?: boolean;
}

/** What a push would send. */
export interface DryRun {
  /** Null where it was interrupted. */
  readonly messages: readonly OscMessage[] | null;
  /** Whether they start from what stands on the desk, which was read; else they set it whatever stands there. */
  readonly isFromDesk: boolean;
}

/**
 * The messages a push would send: from how the desk stands, where `to` says where it is and it can be read, else from
 * anywhere. Nothing is written. Problems: as `push`; what of a mix could not be read.
 */
export const dryRun = async (options: DryRunOptions): Promise<Outcome<DryRun>> => {
  const plan = await planned(options);
  if (!plan.ok) return plan;
  const { desk, plans } = plan.value;
  if (options.to === undefined || !canBeAsked(desk.target)) {
    return ok({ messages: await messagesFor(plans, null, desk), isFromDesk: false });
  }
  const read = await readDesk(plans, desk, options);
  if (!read.ok) return read;
  const { mixes } = read.value;
  if (mixes === null) return ok({ messages: null, isFromDesk: true });
  const unread = mixes.flatMap(({ problems }) => problems);
  return unread.length > 0
    ? fail(unread)
    : ok({ messages: await messagesFor(plans, mixes, desk), isFromDesk: true });
};
