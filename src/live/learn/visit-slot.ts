import type { FilterType } from '../../filters/filter.js';
import type { Desk, DeskSlot } from '../../model/desk.js';
import { type Knob, knobNames } from '../../model/knob.js';
import { argumentFor, saysTheSame } from '../../osc/encodings/registry.js';
import { countedTypes } from '../../osc/scale.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { readbackType } from '../plan/readback.js';
import { isOnLearned, sendStep } from './check-knob.js';
import type { Habits } from './find-count.js';
import type { Findings } from './found.js';
import type { Recognise } from './grids-left.js';
import { knobWire } from './knob-wire.js';
import { learnKnob } from './learn-knob.js';
import { findPartner } from './partner.js';
import { type Quiet, quieten, readsOff } from './quieten.js';
import { parameterOf, type SlotAtWork, type Talk } from './talk.js';

export interface VisitContext {
  readonly desk: Desk;
  readonly talk: Talk;
  /** Every slot of the output, as it was found. */
  readonly slots: readonly SlotAtWork[];
  readonly findings: Findings;
  /** The other leg of the output's pair, only ever read; null where there is none. */
  readonly partner: number | null;
  readonly habits: Habits;
  readonly recognise: Recognise;
  readonly random: () => number;
  /** Told before a grid is learned. */
  onGrid(name: string, knob: Knob, slot: string): void;
}

/** What is being visited of a slot. */
interface Visit {
  readonly slot: SlotAtWork;
  readonly offered: DeskSlot;
  readonly quiet: Quiet['kind'];
  /** Whether a slot of the same types and grids has been visited: then less is looked at. */
  readonly isLike: boolean;
  /** Knobs that something was sent to here, to see whether they are as they were learned. */
  readonly sent: Set<Knob>;
}

/** Whether the visit may go on; `over` where it was interrupted or the desk is lost. */
type Going = 'on' | 'over';

const typesIn = ({ desk: { target } }: VisitContext, { id }: DeskSlot) =>
  target.slots.find((each) => each.id === id)?.types ?? {};

/** What a knob's grid is called under a type; null where it has none, or a fixed value. */
const gridName = (context: VisitContext, offered: DeskSlot, type: FilterType, knob: Knob): string | null => {
  const name = typesIn(context, offered)[type]?.[knob];
  return typeof name === 'string' ? name : null;
};

/** How many slots have a knob of a grid. */
const slotsWith = ({ desk: { target } }: VisitContext, name: string): number =>
  target.slots.filter(({ types }) =>
    Object.values(types).some((type) => knobNames.some((knob) => type[knob] === name)),
  ).length;

/** What other slots were found at on the same grid: steps of it that cost nothing. */
const seenElsewhere = (context: VisitContext, name: string, knob: Knob): readonly number[] =>
  context.slots.flatMap((slot) => {
    const offered = context.desk.slots.find(({ id }) => id === slot.id);
    const parameter = parameterOf(slot, knob);
    const found = slot.found.get(knob);
    if (!offered || !parameter || !found) return [];
    // Only where every type that has the knob has it of this grid is it sure to stand on it.
    const names = [...offered.types.keys()].map((type) => gridName(context, offered, type, knob));
    if (names.some((each) => each !== name)) return [];
    const value = knobWire(knob, parameter, context.desk.target.display).valueOf(found);
    return value === null ? [] : [value];
  });

/** How often a grid that was learned came as learned elsewhere, by what was sent there. */
const agreedWhenSent = ({ checks }: Findings, name: string): number =>
  checks.filter((each) => each.name === name && each.by === 'sent' && each.agrees).length;

/**
 * Puts a gain back where it was found before the slot's type is changed: should that switch the slot on, nothing is to have
 * been raised meanwhile.
 */
const returnGain = async ({ slot }: Visit, talk: Talk): Promise<Going> => {
  const gain = parameterOf(slot, 'gain');
  const [found, stands] = [slot.found.get('gain'), slot.stands.get('gain')];
  if (!gain || !found || !stands || saysTheSame(found, stands)) return 'on';
  return (await talk.write(slot, gain, found)).kind === 'over' ? 'over' : 'on';
};

const visitKnob = async (
  visit: Visit,
  type: FilterType,
  knob: Knob,
  parameter: SlotParameter,
  context: VisitContext,
): Promise<Going> => {
  const { slot, offered, quiet, isLike, sent } = visit;
  const { talk, findings, desk } = context;
  const { display } = desk.target;
  const name = gridName(context, offered, type, knob);
  if (name === null) return 'on';
  if (knob === 'gain' && quiet !== 'off') {
    const why = 'the slot has no switch: a gain is turned only where a section reads as off';
    if (!findings.left.some((each) => each.slot === slot.id && each.parameter === knob))
      findings.left.push({ slot: slot.id, parameter: knob, why });
    return 'on';
  }
  const learned = findings.grids.get(name);
  if (!learned) {
    context.onGrid(name, knob, slot.id);
    const seen = seenElsewhere(context, name, knob);
    const { recognise, random, habits } = context;
    const isAlone = slotsWith(context, name) < 2;
    const task = { name, knob, type, slot, parameter, display, seen, isAlone, habits, recognise, random };
    const grid = await learnKnob(task, talk);
    if (!grid) return 'over';
    findings.grids.set(name, grid);
    sent.add(knob);
    const { partner } = context;
    if (partner !== null && findings.partner === null && knob !== 'gain')
      await findPartner(slot, parameter, partner, context);
    return 'on';
  }
  if (learned.slot === slot.id && sent.has(knob) && learned.type === type) return 'on';
  const timesSent = agreedWhenSent(findings, name);
  // A frequency is what matters most: of it every slot that differs from others, and two of those alike, are sent a step.
  if (!sent.has(knob) && (knob === 'frequency' || (!isLike && timesSent === 0))) {
    sent.add(knob);
    const isFirst = timesSent === 0;
    const place = { slot, parameter, knob, display, isFirst, random: context.random };
    const sentStep = await sendStep(learned, place, talk);
    if (sentStep === 'over') return 'over';
    if (sentStep) findings.checks.push({ name, slot: slot.id, type, by: 'sent', ...sentStep });
    return 'on';
  }
  // That a step which is counted is below the last says little.
  if ((isLike && knob !== 'frequency') || parameter.encoding.as === 'index') return 'on';
  const answer = await talk.read(slot, parameter);
  if (answer.kind !== 'told') return answer.kind === 'over' ? 'over' : 'on';
  const agrees = isOnLearned(learned, knob, parameter, answer.read, display);
  const told = knobWire(knob, parameter, display).valueOf(answer.read);
  const text = told === null ? 'no fit answer' : knobWire(knob, parameter, display).told(told).text;
  if (agrees !== null) findings.checks.push({ name, slot: slot.id, type, by: 'read', agrees, text });
  return 'on';
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
  const { slot, offered, quiet } = visit;
  const { findings, talk } = context;
  const canSwitch = quiet === 'off' && parameterOf(slot, 'type') !== null && offered.types.size > 1;
  const others = canSwitch ? [...offered.types.keys()].filter((type) => type !== first) : [];
  const [taken, refused]: [FilterType[], FilterType[]] = [[], []];
  const knobsOf = async (type: FilterType): Promise<Going> => {
    for (const knob of knobNames) {
      const parameter = parameterOf(slot, knob);
      if (parameter && (await visitKnob(visit, type, knob, parameter, context)) === 'over') return 'over';
    }
    return 'on';
  };
  if (first !== null) {
    taken.push(first);
    if ((await knobsOf(first)) === 'over') return 'over';
  }
  for (const type of others) {
    if ((await returnGain(visit, talk)) === 'over') return 'over';
    const turned = await switchTo(visit, type, context);
    if (turned === 'over') return 'over';
    if (turned === 'heard') {
      const why = 'a change of its type switches it on: nothing more was turned there';
      findings.left.push({ slot: slot.id, parameter: 'type', why });
      break;
    }
    (turned === 'taken' ? taken : refused).push(type);
    if (turned === 'taken' && (await knobsOf(type)) === 'over') return 'over';
  }
  if (canSwitch) findings.types.push({ slot: slot.id, taken, refused });
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
    const name = gridName({ findings, ...context }, offered, type, knob);
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
  const { desk, talk, findings } = context;
  const offered = desk.slots.find(({ id }) => id === slot.id);
  if (!offered) throw new RangeError(`the desk lacks slot ${slot.id} of its own target`);
  if (isLike && isKnownByFound(slot, offered, context)) return 'on';
  const plan = { mix: '', output: 0, slot: offered, parameters: slot.parameters, wanted: new Map() };
  const first = readbackType(plan, slot.stands, desk);
  const quiet = await quieten(slot, first, offered, desk, talk);
  if (quiet.kind === 'not') {
    findings.left.push({ slot: slot.id, parameter: null, why: quiet.why });
    return talk.lost() ? 'over' : 'on';
  }
  return visitTypes({ slot, offered, quiet: quiet.kind, isLike, sent: new Set() }, first, context);
};
