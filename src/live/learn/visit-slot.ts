import type { FilterType } from '../../filters/filter.js';
import type { DeskSlot } from '../../model/desk.js';
import { type Knob, knobNames } from '../../model/knob.js';
import { argumentFor, saysTheSame } from '../../osc/encodings/registry.js';
import { countedTypes } from '../../osc/scale.js';
import { readbackType } from '../plan/readback.js';
import { isOnLearned } from './check-knob.js';
import { keepOff } from './keep-off.js';
import { knobWire } from './knob-wire.js';
import { quieten, readsOff } from './quieten.js';
import { parameterOf, type SlotAtWork, type Talk } from './talk.js';
import {
  agreedWhenSent,
  type Going,
  knobGridName,
  type Visit,
  type VisitContext,
  visitKnob,
} from './visit-knob.js';

/**
 * Puts a gain back where it was found before the slot's type is changed: should that switch the slot on, nothing is to have
 * been raised meanwhile.
 */
const returnGain = async ({ slot }: Visit, talk: Talk): Promise<Going | 'heard'> => {
  const gain = parameterOf(slot, 'gain');
  const [found, stands] = [slot.found.get('gain'), slot.stands.get('gain')];
  if (!gain || !found || !stands || saysTheSame(found, stands)) return 'on';
  const { kind } = await talk.write(slot, gain, found);
  return kind === 'over' || kind === 'heard' ? kind : 'on';
};

/** Turns a slot to a type. `refused`: it stands otherwise, or cannot be told to; `heard`: it went on by that. */
const switchTo = async (
  { slot, offered }: Visit,
  type: FilterType,
  { desk, talk }: VisitContext,
): Promise<'taken' | 'refused' | 'heard' | 'over'> => {
  const parameter = parameterOf(slot, 'type');
  const { osc } = desk.target;
  if (!parameter || !osc) return 'refused';
  const index = countedTypes(offered, osc).indexOf(type);
  const argument = index < 0 ? null : argumentFor(parameter.encoding, parameter.scaleAs(null).at(index));
  if (!argument?.ok) return 'refused';
  const answer = await talk.write(slot, parameter, argument.value);
  if (answer.kind === 'over') return 'over';
  if (answer.kind !== 'told' || !saysTheSame(argument.value, answer.read)) return 'refused';
  if (await readsOff(slot, talk)) return 'taken';
  return talk.lost() ? 'over' : 'heard';
};

const visitTypes = async (visit: Visit, first: FilterType | null, context: VisitContext): Promise<Going> => {
  const { slot, offered, quiet, kept } = visit;
  const { findings, talk } = context;
  const canSwitch = quiet === 'off' && parameterOf(slot, 'type') !== null && offered.types.size > 1;
  const others = canSwitch ? [...offered.types.keys()].filter((type) => type !== first) : [];
  const [taken, refused]: [FilterType[], FilterType[]] = [[], []];
  const knobsOf = async (type: FilterType): Promise<Going> => {
    for (const knob of knobNames) {
      const parameter = parameterOf(slot, knob);
      if (kept?.isStuck()) break;
      if (parameter && (await visitKnob(visit, type, knob, parameter, context)) === 'over') return 'over';
    }
    return 'on';
  };
  if (first !== null) {
    taken.push(first);
    if ((await knobsOf(first)) === 'over') return 'over';
  }
  for (const type of others) {
    if (kept?.isStuck()) break;
    const returned = await returnGain(visit, talk);
    if (returned === 'over') return 'over';
    if (returned === 'heard') break;
    const turned = await switchTo(visit, type, context);
    if (turned === 'over') return 'over';
    if (turned === 'heard') {
      const why = 'a change of its type switches it on: nothing more was turned there';
      findings.left.push({ slot: slot.id, parameter: 'type', why });
      if ((await kept?.makeSure()) === 'over') return 'over';
      break;
    }
    (turned === 'taken' ? taken : refused).push(type);
    if (turned === 'taken' && (await knobsOf(type)) === 'over') return 'over';
  }
  if (canSwitch) findings.types.push({ slot: slot.id, taken, refused });
  if (kept?.isStuck()) findings.left.push({ slot: slot.id, parameter: null, why: kept.whyNoGain() ?? '' });
  return 'on';
};

/**
 * Looks at a slot that is like others which were turned, by what it was found at: where its one type has no grid that is
 * not well known, nothing need be sent. Whether that was enough.
 */
const isKnownByFound = (
  slot: SlotAtWork,
  offered: DeskSlot,
  { findings, ...context }: VisitContext,
): boolean => {
  const [type] = offered.types.keys();
  if (type === undefined || offered.types.size > 1) return false;
  const { display } = context.desk.target;
  const known = knobNames.flatMap((knob) => {
    const name = knobGridName({ findings, ...context }, offered, type, knob);
    const [parameter, found] = [parameterOf(slot, knob), slot.found.get(knob)];
    if (name === null || !parameter || !found) return [];
    const learned = findings.grids.get(name);
    const agrees = learned ? isOnLearned(learned, knob, parameter, found, display) : null;
    const told = knobWire(knob, parameter, display).valueOf(found);
    const text = told === null ? 'no fit answer' : knobWire(knob, parameter, display).told(told).text;
    return [{ name, knob, agrees, text }];
  });
  if (!known.every(({ name, knob }) => knob !== 'frequency' || agreedWhenSent(findings, name) >= 2))
    return false;
  if (known.some(({ name }) => !findings.grids.has(name))) return false;
  for (const { name, agrees, text } of known)
    if (agrees !== null) findings.checks.push({ name, slot: slot.id, type, by: 'read', agrees, text });
  return true;
};

/** Everything there is to learn in one slot: its types, and the grids of their knobs. */
export const visitSlot = async (slot: SlotAtWork, isLike: boolean, context: VisitContext): Promise<Going> => {
  const { desk, talk, findings, proven } = context;
  const offered = desk.slots.find(({ id }) => id === slot.id);
  if (!offered) throw new RangeError(`the desk lacks slot ${slot.id} of its own target`);
  if (isLike && isKnownByFound(slot, offered, context)) return 'on';
  const plan = { mix: '', output: 0, slot: offered, parameters: slot.parameters, wanted: new Map() };
  const first = readbackType(plan, slot.stands, desk);
  const quiet = await quieten(slot, first, offered, desk, talk);
  if (quiet.kind === 'over') return 'over';
  if (quiet.kind === 'not') {
    findings.left.push({ slot: slot.id, parameter: null, why: quiet.why });
    return talk.lost() ? 'over' : 'on';
  }
  const onSwitch = parameterOf(slot, 'on');
  const kept = onSwitch && keepOff(slot, onSwitch, desk.target.display, proven, talk);
  const visit = { slot, offered, quiet: quiet.kind, kept, isLike, sent: new Set<Knob>() };
  return visitTypes(visit, first, { ...context, talk: kept?.talk ?? talk });
};
