import type { FilterType } from '../../filters/filter.js';
import type { Desk } from '../../model/desk.js';
import type { OscParameter } from '../../model/target.js';
import type { Scale } from '../../osc/encodings/encoding.js';
import { nearestOn, numberAs, numberIn } from '../../osc/encodings/encoding.js';
import { argumentFor } from '../../osc/encodings/registry.js';
import type { OscArgument } from '../../osc/message.js';
import { switchScale } from '../../osc/scale.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import type { SlotPlan, Wanted } from '../plan/plan.js';
import { isHeld, type Readback, readbackType, settingRead } from '../plan/readback.js';

/** One thing to do next in a slot: write a value, or read one that is not known. */
export interface NextStep {
  readonly parameter: SlotParameter;
  /** Null where it is only read. */
  readonly write: Wanted | null;
}

/** How far a gain may jump at once. Common practice, no source. */
const greatestGainStepDb = 3;

const gridPoint = (parameter: SlotParameter, scale: Scale, index: number): Wanted => {
  const setting = scale.at(index);
  const argument = argumentFor(parameter.encoding, setting);
  if (!argument.ok) throw new RangeError(`a step of ${parameter.name} cannot be sent: ${argument.error}`);
  return { argument: argument.value, display: setting.text, byStep: true };
};

/** The farthest step towards another that changes the gain by at most 3 dB; the next one where all are wider. */
const towards = (scale: Scale, from: number, to: number): number => {
  const start = scale.at(from).value ?? 0;
  const goal = scale.at(to).value ?? 0;
  if (from === to || Math.abs(goal - start) <= greatestGainStepDb) return to;
  const direction = Math.sign(to - from);
  const farthest = nearestOn(scale, start + direction * greatestGainStepDb);
  let index = farthest.ok ? farthest.value : from;
  const isTooFar = () => Math.abs((scale.at(index).value ?? 0) - start) > greatestGainStepDb + 1e-9;
  if (index !== from && isTooFar()) index -= direction;
  return index === from ? from + direction : index;
};

const zeroGain = (parameter: SlotParameter, type: FilterType | null): Wanted => {
  const scale = parameter.scaleAs(type);
  const zero = nearestOn(scale, 0);
  if (!zero.ok) throw new RangeError(`a gain has no step near 0 dB: ${zero.error}`);
  return gridPoint(parameter, scale, zero.value);
};

/** A knob whose steps lie closer has none to speak of: it takes what lies between them, and beyond their ends. */
const steplessDb = 0.05;

/** A gain in dB as it travels, of a knob without steps that tells dB; null of any other. */
const steplessGainDb = (
  { encoding }: SlotParameter,
  argument: OscArgument | undefined,
  scale: Scale,
): number | null => {
  if (encoding.as !== 'engineering' || !argument || scale.count < 2) return null;
  const spacingDb = (scale.at(1).value ?? 0) - (scale.at(0).value ?? 0);
  const told = numberIn(argument);
  return spacingDb < steplessDb && told.ok ? told.value : null;
};

/** What a 32-bit float may make of a gain. */
const roundingDb = 1e-5;

const isOnScale = (gainDb: number, { count, at }: Scale): boolean =>
  gainDb >= (at(0).value ?? 0) - roundingDb && gainDb <= (at(count - 1).value ?? 0) + roundingDb;

/** A gain that need not be on the target's scale; whatever the desk makes of it near by will do. */
const anyGain = (parameter: SlotParameter, gainDb: number): Wanted => {
  const argument = numberAs(parameter.encoding.type, gainDb, 'nearest float');
  if (!argument.ok) throw new RangeError(`a gain of ${gainDb} dB cannot be sent: ${argument.error}`);
  return { argument: argument.value, display: null, byStep: false, nearDb: steplessDb };
};

/** The next small step of a gain towards where it is to be; straight there from what the target does not know. */
const gainStep = (
  parameter: SlotParameter,
  wanted: Wanted,
  readback: Readback,
  type: FilterType | null,
): Wanted => {
  const from = settingRead(parameter, readback.get('gain'), type);
  const to = settingRead(parameter, wanted.argument, type);
  if (!to || !from) return wanted;
  const scale = parameter.scaleAs(type);
  const [nowDb, goalDb] = [readback.get('gain'), wanted.argument].map((argument) =>
    steplessGainDb(parameter, argument, scale),
  );
  if (typeof nowDb === 'number' && typeof goalDb === 'number') {
    const isNear = Math.abs(goalDb - nowDb) <= greatestGainStepDb;
    if (isNear) return wanted;
    const nextDb = nowDb + Math.sign(goalDb - nowDb) * greatestGainStepDb;
    // Within the ends of its scale a knob has steps, however fine.
    if (isOnScale(nowDb, scale) && isOnScale(nextDb, scale)) {
      const index = towards(scale, from.index, to.index);
      return index === to.index && isOnScale(goalDb, scale) ? wanted : gridPoint(parameter, scale, index);
    }
    return anyGain(parameter, nextDb);
  }
  const index = towards(scale, from.index, to.index);
  return index === to.index ? wanted : gridPoint(parameter, scale, index);
};

/**
 * What to do next in a slot, given what stands there, in an order that never bangs: the section off, or where it
 * has no switch its gain to 0 dB by small steps; then the type, then frequency and width, then the gain by small
 * steps, and the switch last. Empty once everything stands as wanted. Only what differs is written.
 *
 * After a change of type nothing is known of the knobs, since a desk may turn them: they are written anew, and
 * the gain is read, for its small steps to begin where it is; where it cannot be read it is set to 0 dB first.
 */
export const nextSteps = (
  plan: SlotPlan,
  readback: Readback,
  desk: Desk,
  canRead: boolean,
): readonly NextStep[] => {
  const type = readbackType(plan, readback, desk);
  const open = plan.parameters.flatMap((parameter) => {
    const wanted = plan.wanted.get(parameter.name);
    return wanted && !isHeld(wanted, readback.get(parameter.name), parameter, type)
      ? [{ parameter, write: wanted }]
      : [];
  });
  const toTurn = open.filter(({ parameter }) => parameter.name !== 'on');
  if (toTurn.length === 0) return open;

  const parameterNamed = (name: OscParameter) => plan.parameters.find((each) => each.name === name);
  const [onSwitch, gain] = [parameterNamed('on'), parameterNamed('gain')];
  const learnGain = gain && { parameter: gain, write: canRead ? null : zeroGain(gain, type) };

  if (onSwitch && plan.wanted.has('on')) {
    const off = gridPoint(onSwitch, switchScale, 0);
    // One that was forgotten is mostly off still.
    const isForgotten = canRead && !readback.has('on');
    if (isForgotten) return [{ parameter: onSwitch, write: null }];
    if (!isHeld(off, readback.get('on'), onSwitch, type)) return [{ parameter: onSwitch, write: off }];
  }
  const onlyGain = toTurn.every(({ parameter }) => parameter.name === 'gain');
  const wantedType = plan.wanted.get('type');
  const nextType = wantedType ? readbackType(plan, new Map([['type', wantedType.argument]]), desk) : type;
  // A gain that sleeps under one type comes alive under another.
  const gainActs = [type, nextType].some(
    (each) => each === null || plan.slot.types.get(each)?.grids.gain !== undefined,
  );
  if (learnGain && gainActs && !onSwitch && !onlyGain) {
    const zero = zeroGain(gain, type);
    if (!readback.has('gain')) return [learnGain];
    if (!isHeld(zero, readback.get('gain'), gain, type)) {
      return [{ parameter: gain, write: gainStep(gain, zero, readback, type) }];
    }
  }
  const toType = open.find(({ parameter }) => parameter.name === 'type');
  if (toType) return [toType];
  if (!onlyGain) return toTurn.filter(({ parameter }) => parameter.name !== 'gain');
  const wanted = plan.wanted.get('gain');
  if (!learnGain || !wanted) return [];
  // What was found is put back at once where nobody hears it: it need not lie on the target's grid, nor its neighbours.
  const isOff =
    onSwitch !== undefined && isHeld(gridPoint(onSwitch, switchScale, 0), readback.get('on'), onSwitch, type);
  if (isOff && !wanted.byStep && canRead) return [{ parameter: learnGain.parameter, write: wanted }];
  return readback.has('gain')
    ? [{ parameter: gain, write: gainStep(gain, wanted, readback, type) }]
    : [learnGain];
};

/**
 * What is known of a slot whose switch was read before something else was done: nothing of the switch, where only a gain is
 * still to be put back, which is done at once where it reads as off. Other knobs switch their section on, on some desks.
 */
export const forgetSwitch = (plan: SlotPlan, readback: Readback, desk: Desk): Readback => {
  const type = readbackType(plan, readback, desk);
  const open = plan.parameters.filter((parameter) => {
    const wanted = plan.wanted.get(parameter.name);
    return (
      parameter.name !== 'on' && wanted && !isHeld(wanted, readback.get(parameter.name), parameter, type)
    );
  });
  const isOnlyGain =
    open.length === 1 && open[0]?.name === 'gain' && plan.wanted.get('gain')?.byStep === false;
  return isOnlyGain ? new Map([...readback].filter(([name]) => name !== 'on')) : readback;
};

/** What is known after a step: a new type leaves the knobs unknown. */
export const after = (readback: Readback, { parameter }: NextStep, read: OscArgument): Readback => {
  const next = new Map(readback);
  if (parameter.name === 'type') {
    for (const name of readback.keys()) if (name !== 'on' && name !== 'type') next.delete(name);
  }
  return next.set(parameter.name, read);
};
