import type { Desk } from '../../model/desk.js';
import type { MixState } from '../../model/journal.js';
import type { Guard, RecipeMix } from '../../model/recipe.js';
import type { OscParameter } from '../../model/target.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import { isHeld, type Readback, readbackType, showArgument } from '../plan/readback.js';
import type { MixDone, SlotDone } from './execute-plan.js';

/** One value in a report: what was found, what it was to be, what was read last, each as the desk shows it. */
export interface ValueReport {
  readonly output: number;
  readonly slot: string;
  readonly parameter: OscParameter;
  readonly address: string;
  readonly found: string | null;
  /** What it was to be in the end: as planned, or as it was found. Null where it was not to be changed. */
  readonly set: string | null;
  /** Null where it was not read back. */
  readonly read: string | null;
  /** Whether it had been read back as it was to be: when it was written, or by a verification. */
  readonly confirmed: boolean;
  /**
   * `held`: it reads as it was to be in the end. `unread`: it may have been changed, and was not read since.
   * `untouched`: it stands as it was found, for all this tool did.
   */
  readonly state: 'held' | 'differs' | 'unread' | 'sent' | 'untouched';
}

export interface MixReport {
  readonly name: string;
  readonly outputs: readonly number[];
  readonly state: MixState;
  readonly values: readonly ValueReport[];
  /** What went wrong, and what was done about it, as sentences. */
  readonly notes: readonly string[];
}

/** What a recipe says of a mix once it stands, as in the recipe itself. */
export interface RecipeOutcome extends Pick<RecipeMix, 'missing'> {
  readonly guard: Pick<Guard, 'verdict' | 'limits' | 'worst'> | null;
}

export const recipeOutcome = ({ guard, missing }: RecipeMix): RecipeOutcome => ({
  guard: guard && { verdict: guard.verdict, limits: guard.limits, worst: guard.worst },
  missing,
});

const shownIn = (slot: SlotDone, readback: Readback, desk: Desk) => {
  const type = readbackType(slot.plan, readback, desk);
  return (parameter: SlotDone['plan']['parameters'][number]): string | null => {
    const argument = readback.get(parameter.name);
    return argument ? showArgument(parameter, argument, type) : null;
  };
};

const isAsFound = ({ found, read }: SlotDone, name: OscParameter): boolean => {
  const [was, stands] = [found.get(name), read.get(name)];
  return was === undefined ? stands === undefined : stands !== undefined && saysTheSame(was, stands);
};

/** What is known of a value in the end; `isGoal` tells whether an argument is what it was to be. */
const valueState = (
  slot: SlotDone,
  name: OscParameter,
  isGoal: (readback: Readback) => boolean,
  canRead: boolean,
): ValueReport['state'] => {
  if (!slot.touched) {
    if (isGoal(slot.read)) return 'held';
    return isAsFound(slot, name) ? 'untouched' : slot.read.has(name) ? 'differs' : 'unread';
  }
  // A desk may turn its knobs when its type changes.
  const mayBeChanged = slot.written.has(name) || slot.written.has('type');
  const unread = mayBeChanged ? 'unread' : 'untouched';
  if (!canRead) return isGoal(slot.confirmed) ? 'sent' : unread;
  if (!slot.read.has(name)) return unread;
  return isGoal(slot.read) ? 'held' : 'differs';
};

const valuesOf = (slot: SlotDone, desk: Desk, canRead: boolean): readonly ValueReport[] => {
  const { plan, goal } = slot;
  const [found, read] = [shownIn(slot, slot.found, desk), shownIn(slot, slot.read, desk)];
  return plan.parameters
    .filter(({ name }) => plan.wanted.has(name) || goal === 'as-found')
    .map((parameter) => {
      const { name, address } = parameter;
      const set = plan.wanted.get(name);
      const was = slot.found.get(name);
      const wanted = goal === 'set' ? set : was && { argument: was, display: null, byStep: false };
      const isGoal = (readback: Readback): boolean =>
        wanted !== undefined &&
        isHeld(wanted, readback.get(name), parameter, readbackType(plan, readback, desk));
      return {
        output: plan.output,
        slot: plan.slot.id,
        parameter: name,
        address,
        found: found(parameter),
        set: goal === 'set' ? (set?.display ?? null) : found(parameter),
        read: canRead && slot.read !== slot.found ? read(parameter) : null,
        confirmed: canRead && isGoal(slot.confirmed),
        state: valueState(slot, name, isGoal, canRead),
      };
    });
};

const slotState = (slot: SlotDone, canRead: boolean): MixState => {
  const wanted = [...slot.plan.wanted.keys()];
  const wasRead = wanted.every((name) => slot.read.has(name));
  if (!slot.touched) {
    if (slot.holds) return 'unchanged';
    if (wanted.every((name) => isAsFound(slot, name))) return 'untouched';
    return wasRead ? 'differs' : 'unknown';
  }
  if (!canRead) return slot.trouble === null ? 'sent' : 'unknown';
  if (slot.holds) return slot.goal === 'set' ? 'applied' : 'put-back';
  return wasRead ? 'differs' : 'unknown';
};

const mixState = (states: readonly MixState[]): MixState => {
  const has = (state: MixState): boolean => states.includes(state);
  const all = (...allowed: readonly MixState[]): boolean => states.every((state) => allowed.includes(state));
  if (has('unknown')) return 'unknown';
  if (has('sent')) return 'sent';
  if (all('unchanged')) return 'unchanged';
  if (all('applied', 'unchanged')) return 'applied';
  if (all('untouched', 'unchanged')) return 'untouched';
  if (all('put-back', 'untouched', 'unchanged')) return 'put-back';
  return 'differs';
};

const troubleNote = ({ plan, trouble, goal, holds }: SlotDone): readonly string[] => {
  if (!trouble || trouble.result.kind === 'stopped') return [];
  const place = `Output ${plan.output}, slot ${plan.slot.id}, ${trouble.parameter}`;
  const what =
    trouble.result.kind === 'silent'
      ? 'nothing came back after it was written'
      : `it does not take what it is sent: ${trouble.result.why}`;
  const advice =
    trouble.result.kind === 'silent'
      ? "Compare its address in the target with the desk's manual."
      : 'Check whether the desk locks it, or somebody holds it.';
  const done =
    goal === 'set'
      ? 'It was left so.'
      : holds
        ? 'The slot was put back as it was found.'
        : 'The slot could not be put back as it was found.';
  return [`${place}: ${what}. ${done} ${advice}`];
};

const movedNote = ({ plan, moved, wentOn, mended, holds, touched }: SlotDone): readonly string[] => {
  if (!moved) return [];
  const before = touched ? 'had been confirmed' : 'stood as wanted before';
  const done = mended
    ? `It was set again and ${holds ? 'holds now' : 'still stands otherwise'}.`
    : 'It was left so.';
  if (wentOn && touched)
    return [
      `Output ${plan.output}, slot ${plan.slot.id}: its switch was on at the last readback, and was to be off. ${done} Some desks switch a section on when one of its knobs is turned; or somebody may be working on it.`,
    ];
  return [
    `Output ${plan.output}, slot ${plan.slot.id}: it ${before} and stood otherwise at the last readback. ${done} Somebody may be working on it.`,
  ];
};

/** A mix that is neither as set nor as found is told of in one sentence. */
const halfNote = (slots: readonly SlotDone[], canRead: boolean): readonly string[] => {
  const inState = (...states: readonly MixState[]): string =>
    slots
      .filter((slot) => states.includes(slotState(slot, canRead)))
      .map(({ plan }) => `slot ${plan.slot.id} of output ${plan.output}`)
      .join(', ');
  const [set, asFound] = [inState('applied', 'unchanged'), inState('put-back', 'untouched')];
  return set !== '' && asFound !== '' ? [`As set: ${set}. As found: ${asFound}.`] : [];
};

/** How a mix was left, value by value. */
export const reportMix = ({ plan, slots }: MixDone, desk: Desk, canRead: boolean): MixReport => {
  const state = mixState(slots.map((slot) => slotState(slot, canRead)));
  return {
    name: plan.name,
    outputs: plan.outputs,
    state,
    values: slots.flatMap((slot) => valuesOf(slot, desk, canRead)),
    notes: [
      ...slots.flatMap((slot) => [...troubleNote(slot), ...movedNote(slot)]),
      ...(state === 'differs' ? halfNote(slots, canRead) : []),
    ],
  };
};
