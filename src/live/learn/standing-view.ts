import type { Desk } from '../../model/desk.js';
import { displayValue } from '../../model/display.js';
import { knobNames } from '../../model/knob.js';
import { formatExact } from '../../units/format.js';
import type { SlotPlan } from '../plan/plan.js';
import { type Readback, type SlotView, viewSlot } from '../plan/readback.js';
import { knobWire } from './knob-wire.js';

/** A slot as it stands, each knob as it is told: by a draft nobody knows whether that is one of its steps. */
export const standingView = (plan: SlotPlan, found: Readback, desk: Desk): SlotView | null => {
  const view = viewSlot(plan, found, desk);
  if (view === null) return null;
  const { display } = desk.target;
  const told = knobNames.flatMap((knob) => {
    const parameter = plan.parameters.find(({ name }) => name === knob);
    const argument = found.get(knob);
    if (!parameter || !argument || view[knob] === undefined) return [];
    const wire = knobWire(knob, parameter, display);
    const value = wire.valueOf(argument);
    if (value === null) return [];
    const texts = {
      engineering: () => displayValue(knob, value, display),
      text: () => wire.told(value).text,
      index: () => `${knob} step ${formatExact(value)}`,
      fraction: () => `${knob} at ${(100 * value).toFixed(1)} %`,
    };
    return [[knob, texts[parameter.encoding.as]()] as const];
  });
  return { ...view, ...Object.fromEntries(told) };
};
