import type { FilterType } from '../../filters/filter.js';
import type { Desk, DeskSlot } from '../../model/desk.js';
import { type Knob, knobNames } from '../../model/knob.js';
import type { OscParameter } from '../../model/target.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import { isOnLearned, sendStep } from './check-knob.js';
import type { Habits } from './find-count.js';
import type { Findings } from './found.js';
import type { Recognise } from './grids-left.js';
import type { KeptOff } from './keep-off.js';
import { knobWire } from './knob-wire.js';
import { isFit, learnKnob } from './learn-knob.js';
import { findPartner } from './partner.js';
import type { Quiet } from './quieten.js';
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
  /** Knobs that were seen to switch no section on. */
  readonly proven: Set<OscParameter>;
  readonly recognise: Recognise;
  readonly random: () => number;
  /** Told before a grid is learned. */
  onGrid(name: string, knob: Knob, slot: string): void;
}

/** What is being visited of a slot. */
export interface Visit {
  readonly slot: SlotAtWork;
  readonly offered: DeskSlot;
  readonly quiet: Quiet['kind'];
  /** What keeps it silent; null where it has no switch. */
  readonly kept: KeptOff | null;
  /** Whether a slot of the same types and grids has been visited: then less is looked at. */
  readonly isLike: boolean;
  /** Knobs that something was sent to here, to see whether they are as they were learned. */
  readonly sent: Set<Knob>;
}

/** Whether the visit may go on; `over` where it was interrupted or the desk is lost. */
export type Going = 'on' | 'over';

const typesIn = ({ desk: { target } }: VisitContext, { id }: DeskSlot) =>
  target.slots.find((each) => each.id === id)?.types ?? {};

/** What a knob's grid is called under a type; null where it has none, or a fixed value. */
export const knobGridName = (
  context: VisitContext,
  offered: DeskSlot,
  type: FilterType,
  knob: Knob,
): string | null => {
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
    const names = [...offered.types.keys()].map((type) => knobGridName(context, offered, type, knob));
    if (names.some((each) => each !== name)) return [];
    const value = knobWire(knob, parameter, context.desk.target.display).valueOf(found);
    return value === null || !isFit(value, knob, parameter) ? [] : [value];
  });

/** How often a grid that was learned came as learned elsewhere, by what was sent there. */
export const agreedWhenSent = ({ checks }: Findings, name: string): number =>
  checks.filter((each) => each.name === name && each.by === 'sent' && each.agrees).length;

/** What there is to learn, or to compare with what was learned elsewhere, of one knob under one type. */
export const visitKnob = async (
  visit: Visit,
  type: FilterType,
  knob: Knob,
  parameter: SlotParameter,
  context: VisitContext,
): Promise<Going> => {
  const { slot, offered, quiet, kept, isLike, sent } = visit;
  const { talk, findings, desk } = context;
  const { display } = desk.target;
  const name = knobGridName(context, offered, type, knob);
  if (name === null) return 'on';
  const leave = (why: string): Going => {
    if (!findings.left.some((each) => each.slot === slot.id && each.parameter === knob))
      findings.left.push({ slot: slot.id, parameter: knob, why });
    return 'on';
  };
  const heard = (): Going => leave(kept?.whyNoGain() ?? 'its section goes on when it is turned');
  if (knob === 'gain') {
    if (quiet !== 'off')
      return leave('the slot has no switch: a gain is turned only where a section reads as off');
    if (kept?.whyNoGain() != null) return heard();
  }
  const learned = findings.grids.get(name);
  if (!learned) {
    context.onGrid(name, knob, slot.id);
    // Of a gain that is not proven yet the switch is read in any case.
    if (knob === 'gain' && context.proven.has(knob) && (await kept?.makeSure()) === 'over') return 'over';
    const seen = seenElsewhere(context, name, knob);
    const { recognise, random, habits } = context;
    const isAlone = slotsWith(context, name) < 2;
    const task = { name, knob, type, slot, parameter, display, seen, isAlone, habits, recognise, random };
    const grid = await learnKnob(task, talk);
    if (grid === 'over') return 'over';
    // Another slot may let it be turned.
    if (grid === 'heard') return heard();
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
    if (sentStep === 'heard') return heard();
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
