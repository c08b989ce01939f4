import type { FilterType } from '../filters/filter.js';
import { fillAddress } from '../model/address-template.js';
import type { Desk, DeskSlot } from '../model/desk.js';
import { knobNames } from '../model/knob.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { Osc, OscEncoding, OscParameter } from '../model/target.js';
import { fail, ok } from '../units/result.js';
import { encodingOf, oscOf } from './address.js';
import { type Question, questionFor } from './asking.js';
import type { Scale } from './encodings/encoding.js';
import { countedTypes, knobScale, switchScale, typeScale } from './scale.js';

/** One parameter of a slot of one output, as OSC reaches it. */
export interface SlotParameter {
  readonly name: OscParameter;
  readonly address: string;
  readonly encoding: OscEncoding;
  /** What asks for it; null where the desk cannot be asked. */
  readonly question: Question | null;
  /**
   * What it can be set to while the slot is of a type. A knob that the type lacks, or a type that is not known,
   * has the scale of the first type that has the knob: some desks keep such a knob and tell of it.
   */
  scaleAs(type: FilterType | null): Scale;
}

const constant = (scale: Scale) => () => scale;

/** The scale of one parameter; null where the slot has no such thing to set. */
const scalesOf = (
  name: OscParameter,
  slot: DeskSlot,
  { target }: Desk,
  osc: Osc,
): SlotParameter['scaleAs'] | null => {
  if (name === 'on') return constant(switchScale);
  if (name === 'type') {
    const types = countedTypes(slot, osc);
    // A section of its own, which the desk's order of types does not know, has nothing to choose.
    const isChosen = slot.types.size > 1 || types.some((type) => slot.types.has(type));
    return isChosen ? constant(typeScale(types, target.display)) : null;
  }
  const offered = target.slots.find(({ id }) => id === slot.id)?.types ?? {};
  // A number in place of a grid is a knob that does not move.
  const turning = [...slot.types.values()].filter(({ type }) => typeof offered[type]?.[name] === 'string');
  const grids = new Map(
    turning.flatMap(({ type, grids }) => {
      const grid = grids[name];
      return grid ? [[type, knobScale(name, grid, target.display)] as const] : [];
    }),
  );
  const [first] = grids.values();
  return first ? (type) => (type === null ? undefined : grids.get(type)) ?? first : null;
};

const parameterNames: readonly OscParameter[] = ['on', 'type', ...knobNames];

/**
 * Everything OSC reaches of a slot of an output. Problems: the target has no OSC, an address that cannot be
 * filled, a parameter without an encoding or without a question.
 */
export const slotParameters = (
  slot: DeskSlot,
  output: number,
  desk: Desk,
): Outcome<readonly SlotParameter[]> => {
  const reached = oscOf(desk.target);
  if (!reached.ok) return reached;
  const osc = reached.value;
  const problems: Problem[] = [];
  const parameters = parameterNames.flatMap((name): SlotParameter[] => {
    const template = osc.addresses[name];
    const scaleAs = template === undefined ? null : scalesOf(name, slot, desk, osc);
    if (template === undefined || scaleAs === null) return [];
    const encoding = encodingOf(osc, name);
    const place = { output, slot: slot.id };
    const address = fillAddress(template, place);
    if (!encoding.ok) {
      problems.push(...encoding.error);
      return [];
    }
    if (!address.ok) {
      problems.push(problem('osc-address-unfit', `osc.addresses.${name}`, address.error));
      return [];
    }
    const question = questionFor(osc, { name, place, address: address.value });
    if (!question.ok) {
      problems.push(problem('osc-address-unfit', 'osc.read', question.error));
      return [];
    }
    return [{ name, address: address.value, encoding: encoding.value, question: question.value, scaleAs }];
  });
  return problems.length > 0 ? fail(problems) : ok(parameters);
};
