import type { Desk } from '../../model/desk.js';
import type { OscParameter } from '../../model/target.js';
import type { SlotPlan } from '../plan/plan.js';
import { isHeld, type Readback, readbackType } from '../plan/readback.js';
import type { Clock } from '../session/clock.js';
import type { Job, JobResult, Session } from '../session/session.js';
import { after, forgetSwitch, type NextStep, nextSteps } from './next-steps.js';

/** What work on a desk needs. */
export interface WorkContext {
  readonly desk: Desk;
  readonly session: Session;
  readonly canRead: boolean;
}

/** What work on whole mixes needs besides. */
export interface MixContext extends WorkContext {
  readonly clock: Clock;
  /** Given when the user interrupts: the mix under work is put back, and no other is begun. */
  readonly signal: AbortSignal;
  /** Given when the user insists: everything stops where it is. */
  readonly hardSignal: AbortSignal;
  /** Told before each mix. */
  onMix(name: string, index: number, of: number): void;
}

/** Why a slot was not brought to where it was to be. */
export interface Trouble {
  readonly parameter: OscParameter;
  readonly result: Exclude<JobResult, { readonly kind: 'held' }>;
}

/** A slot under work: what is known to stand there, and what went wrong. */
export interface SlotWork {
  readonly plan: SlotPlan;
  readonly readback: Readback;
  /** Whether anything was written. */
  readonly touched: boolean;
  readonly trouble: Trouble | null;
}

const jobFor = ({ parameter, write }: NextStep, work: SlotWork, desk: Desk): Job => {
  const { address, question } = parameter;
  if (write === null) return { address, question, write: null, judge: () => null };
  const type = parameter.name === 'type' ? null : readbackType(work.plan, work.readback, desk);
  return {
    address,
    question,
    write: { address, args: [write.argument] },
    judge: (read) => (isHeld(write, read, parameter, type) ? null : 'it reads otherwise than it was set'),
  };
};

const withResult = (work: SlotWork, step: NextStep, result: JobResult, desk: Desk): SlotWork => {
  const hasLeft = result.kind !== 'stopped' || result.wasSent;
  const touched = work.touched || (step.write !== null && hasLeft);
  if (result.kind === 'held') {
    const readback = after(work.readback, step, result.read);
    const turns = step.write !== null && step.parameter.name !== 'on' && step.parameter.name !== 'gain';
    return { ...work, touched, readback: turns ? forgetSwitch(work.plan, readback, desk) : readback };
  }
  // What was written and not confirmed may stand either way.
  const readback = new Map(work.readback);
  readback.delete(step.parameter.name);
  const trouble = { parameter: step.parameter.name, result };
  return { ...work, touched, readback, trouble: work.trouble ?? trouble };
};

/**
 * Brings slots to where they are wanted, side by side, step by step, each step confirmed before the next. A slot
 * that meets trouble is left where it is; the others go on.
 */
export const convergeSlots = async (
  slots: readonly SlotWork[],
  { desk, session, canRead }: WorkContext,
  signal: AbortSignal,
): Promise<readonly SlotWork[]> => {
  // What was read before may be of before another slot was written, or somebody came.
  let works: readonly SlotWork[] = canRead
    ? slots.map((work) => ({ ...work, readback: forgetSwitch(work.plan, work.readback, desk) }))
    : slots;
  for (;;) {
    const steps = works.flatMap((work, index) =>
      work.trouble === null
        ? nextSteps(work.plan, work.readback, desk, canRead).map((step) => ({ step, index, work }))
        : [],
    );
    if (steps.length === 0) return works;
    const results = await session.exchange(
      steps.map(({ step, work }) => jobFor(step, work, desk)),
      signal,
    );
    const next = [...works];
    steps.forEach(({ step, index }, at) => {
      const work = next[index];
      const result = results[at];
      if (work && result) next[index] = withResult(work, step, result, desk);
    });
    works = next;
  }
};
