import { type Knob, knobNames } from '../model/knob.js';
import { allOf, type Outcome, type Problem, problem } from '../model/problem.js';
import type { Band, Recipe, RecipeMix } from '../model/recipe.js';
import type { Osc, OscParameter, Slot, Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { fillAddress } from './address.js';
import { type OscMessage, oscMessage } from './message.js';
import { outputsToWrite } from './mix-on-target.js';
import { oscOf } from './osc-of.js';
import { type Parameter, parameterArgument } from './parameter-argument.js';

/** One message of a recipe, and what it sets where. */
export interface RecipeMessage {
  readonly mix: string;
  readonly output: number;
  readonly slot: string;
  readonly parameter: OscParameter;
  readonly message: OscMessage;
}

export type OscTarget = Target & { readonly osc: Osc };

/**
 * Whether a slot's type is to be sent. A slot of one type may still stand at another on a desk that was not
 * told in full, so it is sent wherever the target can; only a section the desk's own order of types does not
 * know, such as a cut of its own, has nothing to choose.
 */
const typeIsSent = (band: Band, slot: Slot, { addresses, encodings }: Osc): boolean => {
  const { order } = encodings.type ?? {};
  const isKnown = addresses.type !== undefined && (order === undefined || order.includes(band.type));
  return isKnown || Object.keys(slot.types).length > 1;
};

/**
 * The parameters of a band in an order that makes no noise on the way: the section switched off, then type,
 * frequency and width, the gain after them, and the section on again last.
 */
const parametersOf = (band: Band, slot: Slot, osc: Osc): readonly Parameter[] => {
  const offered = slot.types[band.type];
  // A knob of one value is no knob: fixed by the target, or a single step that OSC does not reach.
  const isTurned = (knob: Knob) => {
    const position = band.steps[knob];
    if (!position || typeof offered?.[knob] === 'number') return false;
    return position.of > 1 || osc.addresses[knob] !== undefined;
  };
  const isSwitched = osc.addresses.on !== undefined;
  return [
    ...(isSwitched ? [{ name: 'on', on: false } as const] : []),
    ...(typeIsSent(band, slot, osc) ? [{ name: 'type' } as const] : []),
    ...knobNames.filter((knob) => knob !== 'gain' && isTurned(knob)).map((name) => ({ name })),
    ...(isTurned('gain') ? [{ name: 'gain' } as const] : []),
    ...(isSwitched ? [{ name: 'on', on: true } as const] : []),
  ];
};

const parameterMessage = (
  parameter: Parameter,
  band: Band,
  output: number,
  target: OscTarget,
  path: string,
): Outcome<OscMessage> => {
  const template = target.osc.addresses[parameter.name];
  const addressPath = `osc.addresses.${parameter.name}`;
  if (template === undefined) {
    const told = `OSC does not reach ${parameter.name}, which slot ${band.slot} needs set. Add its address from the desk's manual, or dial by hand.`;
    return fail([problem('osc-address-missing', addressPath, told)]);
  }
  const address = fillAddress(template, { output, slot: band.slot });
  if (!address.ok) return fail([problem('osc-address-unfit', addressPath, address.error)]);
  const argument = parameterArgument(parameter, band, target, path);
  if (!argument.ok) return argument;
  const message = oscMessage(address.value, [argument.value]);
  return message.ok ? message : fail([problem('osc-address-unfit', addressPath, message.error)]);
};

/** Where a band goes, and what to call the place. */
export interface BandPlace {
  readonly mix: string;
  readonly output: number;
  readonly band: Band;
  readonly path: string;
}

/** A band's messages, in an order that makes no noise. Problems: what cannot be sent exactly, and what to change. */
export const bandMessages = (
  { mix, output, band, path }: BandPlace,
  target: OscTarget,
): Outcome<RecipeMessage[]> => {
  const slot = target.slots.find(({ id, types }) => id === band.slot && types[band.type]);
  if (!slot) {
    const told = `The target ${quote(target.id)} has no slot ${quote(band.slot)} that can be a ${band.type}. Make the recipe again for this target.`;
    return fail([problem('slot-unknown', `${path}.slot`, told)]);
  }
  const outcomes = parametersOf(band, slot, target.osc).map((parameter): Outcome<RecipeMessage> => {
    const message = parameterMessage(parameter, band, output, target, path);
    if (!message.ok) return message;
    return ok({ mix, output, slot: band.slot, parameter: parameter.name, message: message.value });
  });
  return allOf(outcomes);
};

const mixMessages = (mix: RecipeMix, target: OscTarget, path: string): Outcome<RecipeMessage[]> => {
  if (mix.treatment === 'leave-alone') return ok([]);
  const outputs = outputsToWrite(mix, target, path);
  if (!outputs.ok) return outputs;
  const places = outputs.value.flatMap((output) =>
    mix.bands.map((band, index) => ({ mix: mix.name, output, band, path: `${path}.bands[${index}]` })),
  );
  const outcome = allOf(places.map((place) => bandMessages(place, target)));
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
 * A recipe's filters as messages for its target, mix by mix and band by band; mixes left alone have none.
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
