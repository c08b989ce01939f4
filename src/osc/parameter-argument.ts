import type { FilterType } from '../filters/filter.js';
import { type Knob, knobs } from '../model/knob.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { PlacedFilter } from '../model/recipe.js';
import type { Osc, OscParameter, Target } from '../model/target.js';
import { fail, ok, type Result } from '../units/result.js';
import type { Setting } from './encodings/encoding.js';
import { argumentFor } from './encodings/registry.js';
import type { OscArgument } from './message.js';
import { switchScale, typeScale, typeText } from './scale.js';

/** One parameter of a filter's slot: a knob, the filter type, or the switch. */
export type Parameter =
  | { readonly name: Knob | 'type' }
  /** `on` counts as a grid of two steps, shown as `off` and `on`. */
  | { readonly name: 'on'; readonly on: boolean };

/** A filter type counts in its encoding's order; as text it is the desk's label, or the word people use. */
const typeSetting = (type: FilterType, osc: Osc, { display }: Target): Result<Setting, Problem> => {
  const encoding = osc.encodings.type;
  if (encoding?.as !== 'index' && encoding?.as !== 'fraction')
    return ok({ index: 0, of: 1, value: null, text: typeText(type, display) });
  const index = encoding.order?.indexOf(type) ?? -1;
  return index >= 0 && encoding.order
    ? ok(typeScale(encoding.order, display).at(index))
    : fail(
        problem(
          'osc-type-without-index',
          'osc.encodings.type.order',
          `The order does not list ${type}, which is to be sent as ${encoding.as}. Add it where the desk counts it.`,
        ),
      );
};

const knobSetting = (knob: Knob, placed: PlacedFilter, path: string): Result<Setting, Problem> => {
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

const settingOf = (parameter: Parameter, placed: PlacedFilter, osc: Osc, target: Target, path: string) => {
  if (parameter.name === 'on') return ok(switchScale.at(parameter.on ? 1 : 0));
  if (parameter.name === 'type') return typeSetting(placed.type, osc, target);
  return knobSetting(parameter.name, placed, path);
};

/** The argument that carries one parameter of a filter, as the target encodes it. `path` names the filter. */
export const parameterArgument = (
  parameter: Parameter,
  placed: PlacedFilter,
  target: Target & { readonly osc: Osc },
  path: string,
): Outcome<OscArgument> => {
  const encodingPath = `osc.encodings.${parameter.name satisfies OscParameter}`;
  const encoding = target.osc.encodings[parameter.name];
  if (!encoding) {
    return fail([
      problem(
        'osc-encoding-missing',
        encodingPath,
        `The target has an address for ${parameter.name} and does not say how its value travels. Add the encoding.`,
      ),
    ]);
  }
  const setting = settingOf(parameter, placed, target.osc, target, path);
  if (!setting.ok) return fail([setting.error]);
  const argument = argumentFor(encoding, setting.value);
  if (argument.ok) return argument;
  const told = `${parameter.name} of slot ${placed.slot}: ${argument.error} Correct the encoding, or set it by hand.`;
  return fail([problem('osc-value-unfit', encodingPath, told)]);
};
