import { type Filter, type FilterType, gainTypes } from '../../filters/filter.js';
import { familySlopes } from '../../filters/slopes.js';
import type { Desk, DeskSlotType } from '../../model/desk.js';
import { type Knob, knobNames, knobs } from '../../model/knob.js';
import type { OscParameter } from '../../model/target.js';
import { numberIn } from '../../osc/encodings/encoding.js';
import { argumentFor, saysTheSame } from '../../osc/encodings/registry.js';
import { switchScale } from '../../osc/scale.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { step } from '../../units/quantity.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { SlotPlan } from '../plan/plan.js';
import { type Readback, readbackType, settingRead } from '../plan/readback.js';

/**
 * Why a parameter is not known. `unread`: it did not answer, or not as the target says. `unreached`: OSC does not
 * reach it. `not-understood`: what came back is nothing the target knows there. `not-buildable`: a number no filter
 * can be built from.
 */
export interface Unclear {
  readonly parameter: OscParameter;
  readonly why: 'unread' | 'unreached' | 'not-understood' | 'not-buildable';
}

/** What a slot amounts to as it stands. */
export type StandingFilter =
  | { readonly state: 'acts'; readonly filter: Filter }
  /** Nothing goes through it; `filter` is what it would make if it were switched on, null where that is not known. */
  | { readonly state: 'off'; readonly filter: Filter | null }
  /** At 0 dB: it changes nothing. */
  | { readonly state: 'flat' }
  | { readonly state: 'not-known'; readonly unclear: readonly Unclear[] };

/**
 * The value a knob stands at: that of its step or, between steps and beyond them, the number itself where it came in
 * its own unit. Null where it would have to be guessed.
 */
const valueRead = (
  parameter: SlotParameter,
  read: NonNullable<ReturnType<Readback['get']>>,
  type: FilterType,
): number | null => {
  const setting = settingRead(parameter, read, type);
  const sent = setting && argumentFor(parameter.encoding, setting);
  if (setting && sent?.ok && saysTheSame(sent.value, read)) return setting.value;
  const number = parameter.encoding.as === 'engineering' ? numberIn(read) : null;
  return number?.ok ? number.value : null;
};

/** What a filter may be built from; above 0 but for gains. The schemas let a value be no more. */
const mostOf: Readonly<Record<Exclude<Knob, 'frequency' | 'slope'>, number>> = {
  q: 1000,
  bandwidth: 20,
  gain: 60,
};
const leastGainDb = -120;

const isBuildable = (knob: Knob, value: number, { family }: DeskSlotType, { target }: Desk): boolean => {
  if (knob === 'gain') return value >= leastGainDb && value <= mostOf.gain;
  if (knob === 'slope') return familySlopes[family ?? 'butterworth'].includes(value);
  if (knob !== 'frequency') return value > 0 && value <= mostOf[knob];
  return value > 0 && target.realisations.every(({ sampleRateHz }) => value < (sampleRateHz ?? Infinity) / 2);
};

type Value = Result<number, Unclear>;

/** Where one knob stands; a knob that does not move stands where the target says. */
const knobValue = (
  knob: Knob,
  slotType: DeskSlotType,
  { plan, readback, desk }: { plan: SlotPlan; readback: Readback; desk: Desk },
): Value | null => {
  const grid = slotType.grids[knob];
  if (!grid) return null;
  const offered = desk.target.slots.find(({ id }) => id === plan.slot.id)?.types[slotType.type];
  if (typeof offered?.[knob] === 'number') return ok(grid.valueAt(step(0)));
  const parameter = plan.parameters.find(({ name }) => name === knob);
  const unclear = (why: Unclear['why']): Value => fail({ parameter: knob, why });
  if (!parameter) return grid.count === 1 ? ok(grid.valueAt(step(0))) : unclear('unreached');
  const read = readback.get(knob);
  if (!read) return unclear('unread');
  const value = valueRead(parameter, read, slotType.type);
  if (value === null) return unclear('not-understood');
  return isBuildable(knob, value, slotType, desk) ? ok(value) : unclear('not-buildable');
};

/** The filter a slot is set to, whether it is on or off; null where that is a gain of 0 dB. */
const filterSet = (
  plan: SlotPlan,
  readback: Readback,
  desk: Desk,
): Result<Filter | null, readonly Unclear[]> => {
  const type = readbackType(plan, readback, desk);
  const slotType = type === null ? undefined : plan.slot.types.get(type);
  if (type === null || !slotType) {
    const isReached = plan.parameters.some(({ name }) => name === 'type');
    const why = !isReached ? 'unreached' : readback.has('type') ? 'not-understood' : 'unread';
    return fail([{ parameter: 'type', why }]);
  }
  const values = knobNames.flatMap((knob) => {
    const value = knobValue(knob, slotType, { plan, readback, desk });
    return value ? [{ knob, value }] : [];
  });
  // At 0 dB nothing else matters, known or not.
  const isFlat = values.some(({ knob, value }) => knob === 'gain' && value.ok && value.value === 0);
  if (isFlat && gainTypes.includes(type)) return ok(null);
  const unclear = values.flatMap(({ value }) => (value.ok ? [] : [value.error]));
  if (unclear.length > 0) return fail(unclear);
  const told = values.flatMap(({ knob, value }) => (value.ok ? [[knobs[knob].value, value.value]] : []));
  const family = slotType.grids.slope ? { family: slotType.family ?? 'butterworth' } : {};
  return ok({ type, ...Object.fromEntries(told), ...family } as Filter);
};

/** Whether a slot is on: always where OSC does not reach a switch. */
const isOn = (plan: SlotPlan, readback: Readback): Result<boolean, Unclear> => {
  const parameter = plan.parameters.find(({ name }) => name === 'on');
  if (!parameter) return ok(true);
  const read = readback.get('on');
  if (!read) return fail({ parameter: 'on', why: 'unread' });
  const setting = settingRead(parameter, read, null);
  return setting
    ? ok(setting.index === switchScale.count - 1)
    : fail({ parameter: 'on', why: 'not-understood' });
};

/** What a slot amounts to as it was read: never a guess. */
export const standingFilter = (plan: SlotPlan, readback: Readback, desk: Desk): StandingFilter => {
  const [on, set] = [isOn(plan, readback), filterSet(plan, readback, desk)];
  if (on.ok && !on.value) return { state: 'off', filter: set.ok ? set.value : null };
  if (set.ok && set.value === null) return { state: 'flat' };
  if (on.ok && set.ok && set.value) return { state: 'acts', filter: set.value };
  return {
    state: 'not-known',
    unclear: [...(on.ok ? [] : [on.error]), ...(set.ok ? [] : set.error)],
  };
};
