import type { Desk } from '../../model/desk.js';
import type { OscParameter } from '../../model/target.js';
import type { SlotPlan } from '../plan/plan.js';
import type { Job, JobResult } from '../session/session.js';
import type { WorkContext } from './context.js';
import { after, type NextStep, nextSteps } from './next-steps.js';
import { isHeld, type Standing, standingType } from './readback.js';

/** Why a slot was not brought to where it was to be. */
export interface Trouble {
  readonly parameter: OscParameter;
  readonly result: Exclude<JobResult, { readonly kind: 'held' }>;
}

/** A slot under work: what is known to stand there, and what went wrong. */
export interface SlotWork {
  readonly plan: SlotPlan;
  readonly standing: Standing;
  /** Whether anything was written. */
  readonly touched: boolean;
  readonly trouble: Trouble | null;
}

const jobFor = ({ parameter, write }: NextStep, work: SlotWork, desk: Desk): Job => {
  const { address, question } = parameter;
  if (write === null) return { address, question, write: null, judge: () => null };
  const type = parameter.name === 'type' ? null : standingType(work.plan, work.standing, desk);
  return {
    address,
    question,
    write: { address, args: [write.argument] },
    judge: (read) => (isHeld(write, read, parameter, type) ? null : 'it reads otherwise than it was set'),
  };
};

const withResult = (work: SlotWork, step: NextStep, result: JobResult): SlotWork => {
  const hasLeft = result.kind !== 'stopped' || result.wasSent;
  const touched = work.touched || (step.write !== null && hasLeft);
  if (result.kind === 'held') {
    return { ...work, touched, standing: after(work.standing, step, result.read) };
  }
  // What was written and not confirmed may stand either way.
  const standing = new Map(work.standing);
  standing.delete(step.parameter.name);
  const trouble = { parameter: step.parameter.name, result };
  return { ...work, touched, standing, trouble: work.trouble ?? trouble };
};

/**
 * Brings slots to where they are wanted, side by side, step by step, each step confirmed before the next. A slot
 * that meets trouble is left where it is; the others go on.
 */
export const workSlots = async (
  slots: readonly SlotWork[],
  { desk, line, canRead }: WorkContext,
  signal: AbortSignal,
): Promise<readonly SlotWork[]> => {
  let works = slots;
  for (;;) {
    const steps = works.flatMap((work, index) =>
      work.trouble === null
        ? nextSteps(work.plan, work.standing, desk, canRead).map((step) => ({ step, index, work }))
        : [],
    );
    if (steps.length === 0) return works;
    const results = await line.exchange(
      steps.map(({ step, work }) => jobFor(step, work, desk)),
      signal,
    );
    const next = [...works];
    steps.forEach(({ step, index }, at) => {
      const work = next[index];
      const result = results[at];
      if (work && result) next[index] = withResult(work, step, result);
    });
    works = next;
  }
};
