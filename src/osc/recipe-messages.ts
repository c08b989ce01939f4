import { fillAddress } from '../model/address-template.js';
import { type Knob, knobNames, knobs } from '../model/knob.js';
import { allOf, type Outcome, type Problem, problem } from '../model/problem.js';
import type { KnobPosition, PlacedFilter, Recipe, RecipeMix } from '../model/recipe.js';
import type { Osc, OscParameter, Slot, Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { encodingOf, oscOf } from './address.js';
import type { ScaleSetting } from './encodings/encoding.js';
import { argumentFor } from './encodings/registry.js';
import { type OscArgument, type OscMessage, oscMessage } from './message.js';
import { outputsToWrite } from './mix-on-target.js';
import { switchScale, typeOrderOf, typeScale, typeText } from './scale.js';

/** What is sent of a filter. */
export interface SentFilter extends Pick<PlacedFilter, 'slot' | 'type' | 'set'> {
  readonly steps: Readonly<Partial<Record<Knob, Pick<KnobPosition, 'index' | 'of' | 'display'>>>>;
}

/** One parameter of a filter's slot: a knob, the filter type, or the switch. */
type Parameter =
  | { readonly name: Knob | 'type' }
  /** `on` counts as a grid of two steps, shown as `off` and `on`. */
  | { readonly name: 'on'; readonly on: boolean };

/** A filter type counts in the order of its slot; as text it is the desk's label, or the word people use. */
const typeSetting = (
  { slot: id, type }: SentFilter,
  osc: Osc,
  target: Target,
): Result<ScaleSetting, Problem> => {
  const encoding = osc.encodings.type;
  if (encoding?.as !== 'index' && encoding?.as !== 'fraction')
    return ok({ index: 0, of: 1, value: null, text: typeText(type, target.display) });
  const at = target.slots.findIndex((slot) => slot.id === id);
  const slot = target.slots[at];
  const order = (slot && typeOrderOf(slot, osc)) ?? [];
  const index = order.indexOf(type);
  return index >= 0
    ? ok(typeScale(order, target.display).at(index))
    : fail(
        problem(
          'osc-type-without-index',
          slot?.typeOrder ? `slots[${at}].typeOrder` : 'osc.encodings.type.order',
          `The order does not list ${type}, which is to be sent as ${encoding.as}. Add it where the desk counts it.`,
        ),
      );
};

const knobSetting = (knob: Knob, placed: SentFilter, path: string): Result<ScaleSetting, Problem> => {
  const position = placed.steps[knob];
  const value = placed.set[knobs[knob].value];
  return position && value !== undefined
    ? ok({ index: position.index, of: position.of, value, text: position.display })
    : fail(
        problem(
          'recipe-incomplete',
          `${path}.steps.${knob}`,
          `The recipe does not tell both the value and the step.`,
        ),
      );
};

const settingOf = (parameter: Parameter, placed: SentFilter, osc: Osc, target: Target, path: string) => {
  if (parameter.name === 'on') return ok(switchScale.at(parameter.on ? 1 : 0));
  if (parameter.name === 'type') return typeSetting(placed, osc, target);
  return knobSetting(parameter.name, placed, path);
};

/** The argument that carries one parameter of a filter, as the target encodes it. `path` names the filter. */
const parameterArgument = (
  parameter: Parameter,
  placed: SentFilter,
  target: Target & { readonly osc: Osc },
  path: string,
): Outcome<OscArgument> => {
  const encoding = encodingOf(target.osc, parameter.name);
  if (!encoding.ok) return encoding;
  const setting = settingOf(parameter, placed, target.osc, target, path);
  if (!setting.ok) return fail([setting.error]);
  const argument = argumentFor(encoding.value, setting.value);
  if (argument.ok) return argument;
  const told = `${parameter.name} of slot ${placed.slot}: ${argument.error} Correct the encoding, or set it by hand.`;
  return fail([problem('osc-value-unfit', `osc.encodings.${parameter.name}`, told)]);
};

/** One message of a recipe, and what it sets where. */
export interface RecipeMessage {
  readonly mix: string;
  readonly output: number;
  readonly slot: string;
  readonly parameter: OscParameter;
  readonly message: OscMessage;
}

/** A target that OSC reaches. */
export type OscTarget = Target & { readonly osc: Osc };

/**
 * Whether a slot's type is to be sent. A slot of one type may still stand at another on a desk that was not
 * told in full, so it is sent wherever the target can; only a section the desk's own order of types does not
 * know, such as a cut of its own, has nothing to choose.
 */
const typeIsSent = (placed: SentFilter, slot: Slot, osc: Osc): boolean => {
  const order = typeOrderOf(slot, osc);
  const isKnown = osc.addresses.type !== undefined && (order === undefined || order.includes(placed.type));
  return isKnown || Object.keys(slot.types).length > 1;
};

/**
 * The parameters of a filter in an order that makes no noise on the way: the section switched off, then type,
 * frequency and width, the gain after them, and the section on again last.
 */
const parametersOf = (placed: SentFilter, slot: Slot, osc: Osc): readonly Parameter[] => {
  const offered = slot.types[placed.type];
  // A knob of one value is no knob: fixed by the target, or a single step that OSC does not reach.
  const isTurned = (knob: Knob) => {
    const position = placed.steps[knob];
    if (!position || typeof offered?.[knob] === 'number') return false;
    return position.of > 1 || osc.addresses[knob] !== undefined;
  };
  const isSwitched = osc.addresses.on !== undefined;
  return [
    ...(isSwitched ? [{ name: 'on', on: false } as const] : []),
    ...(typeIsSent(placed, slot, osc) ? [{ name: 'type' } as const] : []),
    ...knobNames.filter((knob) => knob !== 'gain' && isTurned(knob)).map((name) => ({ name })),
    ...(isTurned('gain') ? [{ name: 'gain' } as const] : []),
    ...(isSwitched ? [{ name: 'on', on: true } as const] : []),
  ];
};

const parameterMessage = (
  parameter: Parameter,
  placed: SentFilter,
  output: number,
  target: OscTarget,
  path: string,
): Outcome<OscMessage> => {
  const template = target.osc.addresses[parameter.name];
  const addressPath = `osc.addresses.${parameter.name}`;
  if (template === undefined) {
    const told = `OSC does not reach ${parameter.name}, which slot ${placed.slot} needs set. Add its address from the desk's manual, or dial by hand.`;
    return fail([problem('osc-address-missing', addressPath, told)]);
  }
  const address = fillAddress(template, { output, slot: placed.slot });
  if (!address.ok) return fail([problem('osc-address-unfit', addressPath, address.error)]);
  const argument = parameterArgument(parameter, placed, target, path);
  if (!argument.ok) return argument;
  const message = oscMessage(address.value, [argument.value]);
  return message.ok ? message : fail([problem('osc-address-unfit', addressPath, message.error)]);
};

/** Where a filter goes, and what to call the place. */
export interface FilterPlace {
  readonly mix: string;
  readonly output: number;
  readonly placed: SentFilter;
  readonly path: string;
}

/** A filter's messages, in an order that makes no noise. Problems: what cannot be sent exactly, and what to change. */
export const filterMessages = (
  { mix, output, placed, path }: FilterPlace,
  target: OscTarget,
): Outcome<RecipeMessage[]> => {
  const slot = target.slots.find(({ id, types }) => id === placed.slot && types[placed.type]);
  if (!slot) {
    const told = `The target ${quote(target.id)} has no slot ${quote(placed.slot)} that can be a ${placed.type}. Make the recipe again for this target.`;
    return fail([problem('slot-unknown', `${path}.slot`, told)]);
  }
  const outcomes = parametersOf(placed, slot, target.osc).map((parameter): Outcome<RecipeMessage> => {
    const message = parameterMessage(parameter, placed, output, target, path);
    if (!message.ok) return message;
    return ok({ mix, output, slot: placed.slot, parameter: parameter.name, message: message.value });
  });
  return allOf(outcomes);
};

const mixMessages = (mix: RecipeMix, target: OscTarget, path: string): Outcome<RecipeMessage[]> => {
  if (mix.treatment === 'leave-alone') return ok([]);
  const outputs = outputsToWrite(mix, target, path);
  if (!outputs.ok) return outputs;
  const places = outputs.value.flatMap((output) =>
    mix.filters.map((placed, index) => ({
      mix: mix.name,
      output,
      placed,
      path: `${path}.filters[${index}]`,
    })),
  );
  const outcome = allOf(places.map((place) => filterMessages(place, target)));
  return outcome.ok ? ok(outcome.value.flat()) : outcome;
};

/** Why a recipe cannot go to a target: it was made for another one, or for one whose pairs are laid out otherwise. */
export const recipeTargetFault = ({ target: made }: Recipe, target: Target): Problem | null => {
  const anew = 'Make the recipe again for this target.';
  if (made.id !== target.id) {
    const told = `The recipe was made for ${quote(made.id)}, the target is ${quote(target.id)}. ${anew}`;
    return problem('recipe-of-another-target', 'target.id', told);
  }
  const { stereo } = target.outputs;
  const told = `The recipe was made for a desk with ${made.stereo}, and ${quote(target.id)} has ${stereo}. ${anew}`;
  return made.stereo === stereo ? null : problem('recipe-of-another-target', 'target.stereo', told);
};

/**
 * A recipe's filters as messages for its target, mix by mix and filter by filter; mixes left alone have none.
 * All or nothing: what cannot be sent exactly is a problem that says what to change.
 */
export const recipeMessages = (recipe: Recipe, target: Target): Outcome<readonly RecipeMessage[]> => {
  const fault = recipeTargetFault(recipe, target);
  if (fault) return fail([fault]);
  const osc = oscOf(target);
  if (!osc.ok) return osc;
  const outcome = allOf(
    recipe.mixes.map((mix, index) => mixMessages(mix, { ...target, osc: osc.value }, `mixes[${index}]`)),
  );
  return outcome.ok ? ok(outcome.value.flat()) : outcome;
};
