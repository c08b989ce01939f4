import type { FilterType } from '../filters/filter.js';
import { quote } from '../units/quote.js';
import type { LayoutSlot } from './address-map.js';
import { tellableTypes } from './initial.js';
import { readFields, type Tell } from './read-fields.js';
import { type KnobScale, knobScales, type SlotState, underType } from './slot-state.js';

/** The step a state tells of a knob; null, and told, where it is none. */
const readStep = (value: unknown, { scale }: KnobScale, path: string, tell: Tell): number | null => {
  const fields = readFields(value, ['index', 'display'], path, tell);
  if (!fields) return null;
  const { index, display } = fields;
  if (typeof index !== 'number' || !Number.isInteger(index) || index < 0 || index >= scale.count) {
    const allowed = `a whole number from 0 to ${scale.count - 1} is allowed`;
    tell(`${path}.index`, `${quote(index)} is no step of this knob; ${allowed}.`);
    return null;
  }
  const { text } = scale.at(index);
  if (display !== undefined && display !== text) {
    const mend = 'Correct the step, or take the display out.';
    tell(`${path}.display`, `Step ${index} shows ${quote(text)}, not ${quote(display)}. ${mend}`);
  }
  return index;
};

/** Reads what a state tells of one slot; what it does not tell stays as it was. */
export const readSlot = (
  value: unknown,
  slot: LayoutSlot,
  before: SlotState,
  path: string,
  tell: Tell,
): SlotState => {
  const fields = readFields(value, ['id', 'on', 'type', 'knobs'], path, tell);
  if (!fields) return before;
  const { on = before.on, type = before.type, knobs = {} } = fields;
  if (typeof on !== 'boolean') {
    tell(`${path}.on`, `${quote(on)} is neither true nor false.`);
    return before;
  }
  const types = tellableTypes(slot);
  if (!types.includes(type as FilterType)) {
    tell(`${path}.type`, `${quote(type)} is no type of this slot; there are ${types.join(', ')}.`);
    return before;
  }
  const typed = underType(slot, { ...before, on }, type as FilterType);
  const scales = knobScales(slot, typed.type);
  const told = readFields(
    knobs,
    scales.map(({ knob }) => knob),
    `${path}.knobs`,
    tell,
  );
  const steps = scales.flatMap((each) => {
    const { knob } = each;
    if (told?.[knob] === undefined) return [];
    const index = readStep(told[knob], each, `${path}.knobs.${knob}`, tell);
    return index === null ? [] : [[knob, index] as const];
  });
  return { ...typed, steps: { ...typed.steps, ...Object.fromEntries(steps) } };
};
