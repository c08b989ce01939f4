import type { Desk, DeskSlot } from '../model/desk.js';
import { knobNames, knobs } from '../model/knob.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { Band, Recipe, RecipeMix } from '../model/recipe.js';
import type { OscParameter } from '../model/target.js';
import type { Setting } from '../osc/encodings/encoding.js';
import { argumentFor } from '../osc/encodings/registry.js';
import { countedTypes, switchScale } from '../osc/scale.js';
import { type SlotParameter, slotParameters } from '../osc/slot-parameters.js';
import { step } from '../units/quantity.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { mixOnDesk } from './mix-on-desk.js';
import type { MixPlan, SlotPlan, Wanted } from './plan.js';

const anew = 'Make the recipe anew for this target.';

/** What a band wants one parameter to be; null where it has nothing to say of it. */
const settingFor = (
  parameter: SlotParameter,
  band: Band,
  slot: DeskSlot,
  desk: Desk,
  path: string,
): Outcome<Setting | null> => {
  const { name } = parameter;
  if (name === 'on') return ok(switchScale.at(1));
  const scale = parameter.scaleAs(band.type);
  if (name === 'type') {
    const { osc } = desk.target;
    const index = osc ? countedTypes(osc, [...slot.types.keys()]).indexOf(band.type) : -1;
    return ok(index < 0 ? null : scale.at(index));
  }
  const position = band.steps[name];
  const grid = slot.types.get(band.type)?.grids[name];
  if (!grid || !position) {
    if (!grid && !position) return ok(null);
    const told = `The ${name} is ${position ? 'set' : 'not set'} here, and a ${band.type} on slot ${slot.id} of ${quote(desk.target.id)} has ${grid ? 'one' : 'none'}. ${anew}`;
    return fail([problem('recipe-off-grid', `${path}.steps.${name}`, told)]);
  }
  const value = position.index < grid.count ? grid.valueAt(step(position.index)) : null;
  const told = band.set[knobs[name].value];
  if (position.of !== grid.count || value === null || value !== told) {
    const stands = value === null ? `of ${grid.count} none` : `${value} of ${grid.count} steps`;
    const fault = `Step ${position.index} of ${position.of} is to be ${told}; on ${quote(desk.target.id)} it is ${stands}. ${anew}`;
    return fail([problem('recipe-off-grid', `${path}.steps.${name}`, fault)]);
  }
  return ok(scale.at(position.index));
};

const wantedFor = (
  parameter: SlotParameter,
  band: Band,
  slot: DeskSlot,
  desk: Desk,
  path: string,
): Outcome<Wanted | null> => {
  const setting = settingFor(parameter, band, slot, desk, path);
  if (!setting.ok) return setting;
  if (setting.value === null) return ok(null);
  const argument = argumentFor(parameter.encoding, setting.value);
  if (argument.ok) return ok({ argument: argument.value, display: setting.value.text, byStep: true });
  const told = `${parameter.name} of slot ${slot.id}: ${argument.error} Correct the encoding, or set it by hand.`;
  return fail([problem('osc-value-unfit', `osc.encodings.${parameter.name}`, told)]);
};

/** Knobs that a band turns and OSC does not reach. */
const unreached = (
  band: Band,
  slot: DeskSlot,
  parameters: readonly SlotParameter[],
  desk: Desk,
): readonly Problem[] => {
  const offered = desk.target.slots.find(({ id }) => id === slot.id)?.types[band.type];
  const isTurned = (name: OscParameter) =>
    name === 'type' ? slot.types.size > 1 : name !== 'on' && typeof offered?.[name] === 'string';
  return (['type', ...knobNames] as const)
    .filter((name) => isTurned(name) && !parameters.some((each) => each.name === name))
    .filter((name) => name === 'type' || (band.steps[name]?.of ?? 1) > 1)
    .map((name) =>
      problem(
        'osc-address-missing',
        `osc.addresses.${name}`,
        `OSC does not reach ${name}, which slot ${slot.id} needs set. Add its address from the desk's manual, or dial by hand.`,
      ),
    );
};

const planBand = (
  band: Band,
  mix: RecipeMix,
  output: number,
  desk: Desk,
  path: string,
): Outcome<SlotPlan> => {
  const slot = desk.slots.find(({ id, types }) => id === band.slot && types.has(band.type));
  if (!slot) {
    const told = `The target ${quote(desk.target.id)} has no slot ${quote(band.slot)} that can be a ${band.type}. ${anew}`;
    return fail([problem('slot-unknown', `${path}.slot`, told)]);
  }
  const parameters = slotParameters(slot, output, desk);
  if (!parameters.ok) return parameters;
  const problems: Problem[] = [...unreached(band, slot, parameters.value, desk)];
  const wanted = new Map<OscParameter, Wanted>();
  for (const parameter of parameters.value) {
    const value = wantedFor(parameter, band, slot, desk, path);
    if (!value.ok) problems.push(...value.error);
    else if (value.value) wanted.set(parameter.name, value.value);
  }
  return problems.length > 0
    ? fail(problems)
    : ok({ mix: mix.name, output, slot, parameters: parameters.value, wanted });
};

const planMix = (mix: RecipeMix, desk: Desk, path: string): Outcome<MixPlan> => {
  const place = mixOnDesk(mix, desk, path);
  if (!place.ok) return place;
  const plans = place.value.writeTo.flatMap((output) =>
    mix.bands.map((band, index) => planBand(band, mix, output, desk, `${path}.bands[${index}]`)),
  );
  const problems = plans.flatMap((plan) => (plan.ok ? [] : plan.error));
  if (problems.length > 0) return fail(problems);
  const slots = plans.flatMap((plan) => (plan.ok ? [plan.value] : []));
  const { outputs, name } = mix;
  return ok({ name, outputs, nameAddresses: place.value.nameAddresses, slots });
};

/** Each problem once, however many mixes have it. */
const once = (problems: readonly Problem[]): readonly Problem[] => [
  ...new Map(problems.map((found) => [`${found.path}\n${found.message}`, found])).values(),
];

/** Why a recipe, which may have been edited since it was made, must not be sent to this desk at all. */
const recipeFaults = (recipe: Recipe, { target }: Desk): readonly Problem[] => {
  if (recipe.target.id !== target.id) {
    const told = `The recipe was made for ${quote(recipe.target.id)}, the target is ${quote(target.id)}. ${anew}`;
    return [problem('recipe-of-another-target', 'target.id', told)];
  }
  if (recipe.target.stereo !== target.outputs.stereo) {
    const told = `The recipe was made for a desk on which the legs of a pair are ${recipe.target.stereo === 'legs-share' ? 'one' : 'two'}, on ${quote(target.id)} it is otherwise. ${anew}`;
    return [problem('recipe-of-another-target', 'target.stereo', told)];
  }
  // Nothing is ever written to a feed without a pilot, whatever a file says.
  return recipe.mixes.flatMap(({ treatment, link, bands, name }, index) =>
    (treatment === 'leave-alone' ? bands.length > 0 : link === 'digital' || link === 'wired')
      ? [
          problem(
            'leave-alone',
            `mixes[${index}]`,
            `${quote(name)} feeds a ${link ?? 'plain'} link and is to be left alone, and the recipe has filters for it. Nothing was sent. ${anew}`,
          ),
        ]
      : [],
  );
};

/**
 * What a recipe wants to stand where on a desk: for every mix that is not left alone, in order. All or nothing: what
 * cannot be sent exactly as the recipe tells is a problem.
 */
export const planPush = (recipe: Recipe, desk: Desk): Outcome<readonly MixPlan[]> => {
  const faults = recipeFaults(recipe, desk);
  if (faults.length > 0) return fail(faults);
  const plans = recipe.mixes.flatMap((mix, index) =>
    mix.treatment === 'leave-alone' ? [] : [planMix(mix, desk, `mixes[${index}]`)],
  );
  const problems = once(plans.flatMap((plan) => (plan.ok ? [] : plan.error)));
  return problems.length > 0 ? fail(problems) : ok(plans.flatMap((plan) => (plan.ok ? [plan.value] : [])));
};
