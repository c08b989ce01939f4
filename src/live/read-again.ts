import type { OscParameter } from '../model/target.js';
import type { OscArgument } from '../osc/message.js';
import type { MixContext } from './context.js';
import { nextSteps } from './next-steps.js';
import type { SlotPlan } from './plan.js';
import type { Standing } from './standing.js';
import { workSlots } from './work-slots.js';

export interface ReadBack {
  readonly read: Standing;
  readonly holds: boolean;
  readonly moved: boolean;
}

/** Reads what was wanted of some slots, all of it anew. */
const readSlots = async (
  plans: readonly SlotPlan[],
  { line, hardSignal }: MixContext,
): Promise<readonly Standing[]> => {
  const places = plans.flatMap((plan, index) =>
    plan.parameters.filter(({ name }) => plan.wanted.has(name)).map((parameter) => ({ index, parameter })),
  );
  const results = await line.exchange(
    places.map(({ parameter: { address, question, encoding } }) => ({
      address,
      question,
      write: null,
      judge: ({ type }) =>
        type === encoding.type ? null : `it came as ${type}, and ${encoding.type} is expected`,
    })),
    hardSignal,
  );
  const standings = plans.map(() => new Map<OscParameter, OscArgument>());
  places.forEach(({ index, parameter }, at) => {
    const result = results[at];
    if (result?.kind === 'held') standings[index]?.set(parameter.name, result.read);
  });
  return standings;
};

/** Long enough for what was held up on the way to arrive before a last readback. */
const quietMs = 300;

/** How often what stands otherwise at the last readback is set once more. */
const mostRepairs = 2;

/**
 * The last readback: everything wanted of these slots is read anew, once the network has been quiet for a while. What
 * stands otherwise is set once more, since an old message may have arrived late, and read again; whatever then
 * stands is told as it is.
 */
export const readAgain = async (
  plans: readonly SlotPlan[],
  context: MixContext,
): Promise<readonly ReadBack[]> => {
  const { desk, canRead, signal, hardSignal, clock, line } = context;
  if (!canRead || plans.length === 0) {
    return plans.map(() => ({ read: new Map(), holds: false, moved: false }));
  }
  const readQuietly = async (some: readonly SlotPlan[]): Promise<readonly Standing[]> => {
    await clock.wait(quietMs, hardSignal);
    return readSlots(some, context);
  };
  const withHold = (plan: SlotPlan, read: Standing, moved: boolean): ReadBack => ({
    read,
    holds: nextSteps(plan, read, desk, canRead).length === 0,
    moved,
  });
  const first = await readQuietly(plans);
  const backs = plans.map((plan, index) => withHold(plan, first[index] ?? new Map(), false));
  for (let repair = 0; repair < mostRepairs; repair++) {
    const astray = plans.flatMap((plan, index) => {
      const back = backs[index];
      return back && !back.holds ? [{ index, plan, standing: back.read }] : [];
    });
    if (astray.length === 0 || signal.aborted || line.lost() !== null) break;
    // Only what was read otherwise has moved; what was not read at all may be as it should.
    const movedBefore = astray.map(
      ({ index, plan, standing }) =>
        backs[index]?.moved === true || [...plan.wanted.keys()].every((name) => standing.has(name)),
    );
    await workSlots(
      astray.map(({ plan, standing }) => ({ plan, standing, touched: true, trouble: null })),
      context,
      // What is begun is seen through: a slot is not left half-way.
      hardSignal,
    );
    const read = await readQuietly(astray.map(({ plan }) => plan));
    astray.forEach(({ index, plan }, at) => {
      backs[index] = withHold(plan, read[at] ?? new Map(), movedBefore[at] === true);
    });
  }
  return backs;
};
