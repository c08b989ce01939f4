import type { Knob } from '../../model/knob.js';
import { knobs } from '../../model/knob.js';
import type { Display } from '../../model/target.js';
import type { OscArgument } from '../../osc/message.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { nearestStep } from '../../quantisers/snap.js';
import { step } from '../../units/quantity.js';
import type { GridLearned } from './found.js';
import { knobWire } from './knob-wire.js';
import type { SlotAtWork, Talk } from './talk.js';

/** How far what a desk works out may be from what it tells. */
const arithmetic = 2e-6;

const isSame = (one: number, other: number): boolean =>
  Math.abs(one - other) <= arithmetic * Math.max(Math.abs(one), Math.abs(other), 1e-3);

const gridOf = ({ spec }: GridLearned): Quantiser | null => {
  const made = spec && makeQuantiser(spec);
  return made?.ok ? made.value : null;
};

/** What a knob is sent, and tells, at a step of a grid that was learned; null where that is not known. */
const numberAt = (learned: GridLearned, parameter: SlotParameter, index: number): number | null => {
  const { count } = learned;
  if (count === null) return null;
  const { as } = parameter.encoding;
  if (as === 'index') return index;
  if (as === 'fraction') return count === 1 ? 0 : index / (count - 1);
  return gridOf(learned)?.valueAt(step(index)) ?? null;
};

/** Whether a number that a knob tells is a step of a grid that was learned; null where nothing says so. */
export const isOnLearned = (
  learned: GridLearned,
  knob: Knob,
  parameter: SlotParameter,
  read: OscArgument,
  display: Display,
): boolean | null => {
  const wire = knobWire(knob, parameter, display);
  const told = wire.valueOf(read);
  if (told === null) return false;
  const { count } = learned;
  if (count === null) return null;
  const { as } = parameter.encoding;
  if (as === 'index') return Number.isInteger(told) && told >= 0 && told < count;
  if (as === 'fraction') return isSame(told * (count - 1), Math.round(told * (count - 1)));
  const grid = gridOf(learned);
  if (!grid) return null;
  const { measure } = knobs[knob];
  if (measure === 'ratio' && told <= 0) return false;
  const nearest = grid.valueAt(nearestStep(grid, told, { measure, tie: 'up' }));
  return isSame(wire.asSent(nearest), told);
};

/** Sends a knob one step of a grid that was learned elsewhere: the last one, or one at random. Null where none can be sent. */
export const sendStep = async (
  learned: GridLearned,
  {
    slot,
    parameter,
    knob,
    display,
    isFirst,
    random,
  }: {
    readonly slot: SlotAtWork;
    readonly parameter: SlotParameter;
    readonly knob: Knob;
    readonly display: Display;
    /** Whether the grid is looked at for the first time since it was learned. */
    readonly isFirst: boolean;
    readonly random: () => number;
  },
  talk: Talk,
): Promise<{ readonly agrees: boolean; readonly text: string } | 'over' | 'heard' | null> => {
  const { count } = learned;
  if (count === null) return null;
  const wire = knobWire(knob, parameter, display);
  // Of steps that are counted the ends say most.
  const index = parameter.encoding.as === 'index' ? (isFirst ? 0 : count - 1) : Math.floor(random() * count);
  const number = numberAt(learned, parameter, index);
  const argument = number === null ? null : wire.argumentOf(number);
  if (number === null || argument === null) return null;
  const answer = await talk.write(slot, parameter, argument);
  if (answer.kind === 'over' || answer.kind === 'heard') return answer.kind;
  const told = answer.kind === 'told' ? wire.valueOf(answer.read) : null;
  const agrees = told !== null && isSame(told, wire.asSent(number));
  return { agrees, text: told === null ? 'no fit answer' : wire.told(told).text };
};
