import type { Problem } from '../../model/problem.js';
import type { OscParameter } from '../../model/target.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import type { SlotParameter } from '../../osc/slot-parameters.js';
import type { Readback } from '../plan/readback.js';
import type { JobResult, Session } from '../session/session.js';
import { after } from '../write/next-steps.js';
import { readJob } from '../write/survey.js';

/** A slot while it is learned from: what stood there, and what is known to stand there now. */
export interface SlotAtWork {
  readonly id: string;
  readonly parameters: readonly SlotParameter[];
  readonly found: Readback;
  stands: Readback;
  isTouched: boolean;
}

/**
 * Why a parameter told nothing. `over`: it was interrupted, or the desk is lost. `heard`: it was not sent, since its section
 * is on, or goes on by it.
 */
export type NoAnswer = 'silent' | 'unfit' | 'over' | 'heard';

export type TalkAnswer =
  | { readonly kind: 'told'; readonly read: OscArgument; readonly moved: boolean }
  | { readonly kind: NoAnswer };

/** What is sent before a write or a question: each time, or only where that is sent again. */
export interface Before {
  readonly first: OscMessage;
  readonly isAlways: boolean;
}

/** Says one thing to a desk at a time, and hears what stands there then. */
export interface Talk {
  write(
    slot: SlotAtWork,
    parameter: SlotParameter,
    argument: OscArgument,
    before?: Before,
  ): Promise<TalkAnswer>;
  read(slot: SlotAtWork, parameter: SlotParameter, before?: Before): Promise<TalkAnswer>;
  /** Reads what belongs to no slot under work. */
  readElsewhere(parameter: SlotParameter): Promise<OscArgument | null>;
  /** Whether what was last written or read had to be sent more than once. */
  wasRepeated(): boolean;
  lost(): Problem | null;
  /** Messages sent so far, since the session began. */
  sent(): number;
}

export const parameterOf = (
  { parameters }: Pick<SlotAtWork, 'parameters'>,
  name: OscParameter,
): SlotParameter | null => parameters.find((each) => each.name === name) ?? null;

/** One write in so many may be taken for a refusal since it was lost on the way. */
const seldom = 1e-4;

/**
 * What is sent may be lost while its question is answered, and then looks like a refusal: what does not move is sent
 * again, as often as the share of lost answers makes advisable; once where none was, never where nothing can be lost.
 */
const repeatsFor = (asked: number, missed: number, isOrdered: boolean): number => {
  if (missed === 0) return isOrdered ? 0 : 1;
  const share = Math.min(0.5, Math.max(0.02, (1.5 * missed) / asked));
  return Math.ceil(Math.log(seldom) / Math.log(share)) - 1;
};

const noAnswer = (result: Exclude<JobResult, { readonly kind: 'held' }>): NoAnswer =>
  result.kind === 'silent' ? 'silent' : result.kind === 'otherwise' ? 'unfit' : 'over';

/** Talks through a session. `isOrdered`: what is sent arrives, and in order. */
export const makeTalk = (session: Session, signal: AbortSignal, isOrdered: boolean): Talk => {
  const start = session.counts();
  let unasked = 0;
  let isRepeated = false;

  const exchange = async (
    slot: SlotAtWork | null,
    parameter: SlotParameter,
    argument: OscArgument | null,
    before?: Before,
  ): Promise<JobResult> => {
    const job = readJob(parameter, parameter.encoding.type);
    const write = argument && { address: parameter.address, args: [argument] };
    const sentBefore = session.counts().sent;
    const first = before && { message: before.first, isAlways: before.isAlways };
    const [result] = await session.exchange([{ ...job, write, ...(first ? { first } : {}) }], signal);
    const sent = session.counts().sent - sentBefore;
    // Each attempt sends the question, what is written, and what goes before that.
    const each = 1 + (write ? 1 : 0) + (first ? 1 : 0);
    const attempts = (sent + (first && !first.isAlways ? 1 : 0)) / each;
    unasked += sent - attempts;
    isRepeated = attempts > 1;
    if (!slot || !result) return result ?? { kind: 'stopped', wasSent: false };
    if (write && (result.kind !== 'stopped' || result.wasSent)) slot.isTouched = true;
    if (result.kind === 'held') {
      const step = { parameter, write: null };
      const isNewType = parameter.name === 'type' && write !== null;
      slot.stands = isNewType
        ? after(slot.stands, step, result.read)
        : new Map(slot.stands).set(parameter.name, result.read);
    } else if (write) {
      const stands = new Map(slot.stands);
      stands.delete(parameter.name);
      slot.stands = stands;
    }
    return result;
  };

  const repeats = (): number => {
    const { sent, heard } = session.counts();
    const asked = sent - start.sent - unasked;
    return repeatsFor(asked, Math.max(0, asked - (heard - start.heard)), isOrdered);
  };

  return {
    write: async (slot, parameter, argument, first) => {
      const stood = slot.stands.get(parameter.name);
      for (let again = 0; ; again++) {
        const result = await exchange(slot, parameter, argument, first);
        if (result.kind !== 'held') return { kind: noAnswer(result) };
        const { read } = result;
        const stayed = stood !== undefined && isExactly(stood, read);
        if (!stayed) return { kind: 'told', read, moved: true };
        if (saysTheSame(argument, read)) return { kind: 'told', read, moved: false };
        if (again >= repeats()) return { kind: 'told', read, moved: false };
      }
    },
    read: async (slot, parameter, first) => {
      const result = await exchange(slot, parameter, null, first);
      return result.kind === 'held'
        ? { kind: 'told', read: result.read, moved: false }
        : { kind: noAnswer(result) };
    },
    readElsewhere: async (parameter) => {
      const result = await exchange(null, parameter, null);
      return result.kind === 'held' ? result.read : null;
    },
    wasRepeated: () => isRepeated,
    lost: session.lost,
    sent: () => session.counts().sent,
  };
};

/** Whether two answers are the same to the last digit: neighbouring floats are two steps of some knobs. */
const isExactly = (one: OscArgument, other: OscArgument): boolean =>
  one.type === other.type && 'value' in one && 'value' in other && one.value === other.value;
