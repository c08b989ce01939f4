import type { FilterType } from '../../filters/filter.js';
import type { Desk } from '../../model/desk.js';
import { knobNames } from '../../model/knob.js';
import type { OscParameter } from '../../model/target.js';
import { numberIn, type ScaleSetting } from '../../osc/encodings/encoding.js';
import { argumentFor, saysTheSame, settingIn } from '../../osc/encodings/registry.js';
import type { OscArgument } from '../../osc/message.js';
import { countedTypes, typeText } from '../../osc/scale.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { quoteText } from '../../units/quote.js';
import type { SlotPlan, Wanted } from './plan.js';

/** What is known to stand in a slot, as the desk told it. A parameter that is missing is not known. */
export type Readback = ReadonlyMap<OscParameter, OscArgument>;

/** The filter type that stands in a slot, or the only one it can be; null where it is not known. */
export const readbackType = (plan: SlotPlan, readback: Readback, { target }: Desk): FilterType | null => {
  const offered = [...plan.slot.types.keys()];
  const parameter = plan.parameters.find(({ name }) => name === 'type');
  if (!parameter) return offered.length === 1 ? (offered[0] ?? null) : null;
  const read = readback.get('type');
  if (!read || !target.osc) return null;
  const setting = settingIn(parameter.encoding, read, parameter.scaleAs(null));
  return setting.ok ? (countedTypes(plan.slot, target.osc)[setting.value.index] ?? null) : null;
};

/** The setting an argument stands for; null where the target knows none such. */
export const settingRead = (
  { encoding, scaleAs }: SlotParameter,
  argument: OscArgument | undefined,
  type: FilterType | null,
): ScaleSetting | null => {
  if (!argument) return null;
  const setting = settingIn(encoding, argument, scaleAs(type));
  return setting.ok ? setting.value : null;
};

/** How far beside its step a value may be told, as a share of the way to the next one. */
const besideStep = 0.25;

/** Whether a number that came back lies on its step, and not between two or beyond the last. */
const isOnStep = (
  { encoding, scaleAs }: SlotParameter,
  read: OscArgument,
  { index }: ScaleSetting,
  type: FilterType | null,
): boolean => {
  const scale = scaleAs(type);
  const sentAs = (at: number): number | null => {
    if (at < 0 || at >= scale.count) return null;
    const sent = argumentFor(encoding, scale.at(at));
    const number = sent.ok ? numberIn(sent.value) : null;
    return number?.ok ? number.value : null;
  };
  const [told, own] = [numberIn(read), sentAs(index)];
  if (!told.ok || own === null) return true;
  const apart = [sentAs(index - 1), sentAs(index + 1)]
    .filter((each) => each !== null)
    .map((each) => Math.abs(each - own));
  return apart.length === 0 || Math.abs(told.value - own) <= besideStep * Math.min(...apart);
};

/** Whether what stands there is what is wanted. */
export const isHeld = (
  wanted: Wanted,
  read: OscArgument | undefined,
  parameter: SlotParameter,
  type: FilterType | null,
): boolean => {
  if (!read) return false;
  if (saysTheSame(wanted.argument, read)) return true;
  if (wanted.nearDb !== undefined) {
    const [asked, stands] = [numberIn(wanted.argument), numberIn(read)];
    return asked.ok && stands.ok && Math.abs(asked.value - stands.value) <= wanted.nearDb;
  }
  if (!wanted.byStep) return false;
  const [asked, stands] = [settingRead(parameter, wanted.argument, type), settingRead(parameter, read, type)];
  return (
    asked !== null &&
    stands !== null &&
    asked.index === stands.index &&
    isOnStep(parameter, read, stands, type)
  );
};

/** Text from outside is shown as far as anybody would read it, and never obeyed. */
const raw = (argument: OscArgument): string => {
  if (!('value' in argument) || argument.value instanceof Uint8Array)
    return `an argument of type ${argument.type}`;
  return typeof argument.value === 'string' ? quoteText(argument.value) : String(argument.value);
};

/** The step an argument says, to the last digit; null where the target knows none such. */
const stepSaid = (
  parameter: SlotParameter,
  argument: OscArgument,
  type: FilterType | null,
): ScaleSetting | null => {
  const setting = settingRead(parameter, argument, type);
  const sent = setting === null ? null : argumentFor(parameter.encoding, setting);
  return sent?.ok && saysTheSame(sent.value, argument) ? setting : null;
};

/** Whether an argument says a step the target knows. */
export const isOnGrid = (parameter: SlotParameter, argument: OscArgument, type: FilterType | null): boolean =>
  stepSaid(parameter, argument, type) !== null;

/** An argument as the desk would show it; as it came, and said so, where the target knows no such step. */
export const showArgument = (
  parameter: SlotParameter,
  argument: OscArgument,
  type: FilterType | null,
): string => stepSaid(parameter, argument, type)?.text ?? `${raw(argument)} (no step of this target)`;

/** A slot as its desk would show it: each parameter in the desk's own words, but for knobs its type does not have. */
export type SlotView = Readonly<Partial<Record<OscParameter, string>>>;

/** The knobs that a filter type does not have, and whose values it keeps for others, if its desk tells of them. */
const isAsleep = (plan: SlotPlan, type: FilterType | null, name: OscParameter): boolean => {
  const grids = type === null ? undefined : plan.slot.types.get(type)?.grids;
  return knobNames.some((knob) => knob === name && grids && grids[knob] === undefined);
};

/** What is to be written to knobs that the slot's filter does not have, as the desk would show it, where it stands otherwise. */
export const viewAsleep = (plan: SlotPlan, found: Readback, desk: Desk): SlotView => {
  const type = readbackType(
    plan,
    new Map([...found, ...[...plan.wanted].map(([name, { argument }]) => [name, argument] as const)]),
    desk,
  );
  const shown = plan.parameters.flatMap((parameter) => {
    const wanted = plan.wanted.get(parameter.name);
    const isWritten = wanted && !isHeld(wanted, found.get(parameter.name), parameter, type);
    return isWritten && isAsleep(plan, type, parameter.name)
      ? [[parameter.name, showArgument(parameter, wanted.argument, type)] as const]
      : [];
  });
  return Object.fromEntries(shown);
};

/** What a desk shows of a slot; null where nothing is known of it. */
export const viewSlot = (plan: SlotPlan, readback: Readback, desk: Desk): SlotView | null => {
  if (readback.size === 0) return null;
  const type = readbackType(plan, readback, desk);
  const shown = plan.parameters.flatMap((parameter) => {
    const read = readback.get(parameter.name);
    return read && !isAsleep(plan, type, parameter.name)
      ? [[parameter.name, showArgument(parameter, read, type)] as const]
      : [];
  });
  const typeShown = type === null ? {} : { type: typeText(type, desk.target.display) };
  return { ...Object.fromEntries(shown), ...typeShown };
};
