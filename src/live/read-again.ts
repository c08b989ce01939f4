import type { OscParameter } from '../model/target.js';
import type { OscArgument } from '../osc/message.js';
import type { CarryOutContext } from './carry-out.js';
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
  { line, hardSignal }: CarryOutContext,
): Promise<readonly Standing[]> => {
  const places = plans.flatMap((plan, index) =>
    plan.parameters
      .filter(({ name }) => plan.wanted.has(name))
      .map(({ name, address, encoding }) => ({ index, name, address, type: encoding.type })),
  );
  const results = await line.exchange(
    places.map(({ address, type }) => ({
      address,
      write: null,
      judge: (read) => (read.type === type ? null : `it came as ${read.type}, and ${type} is expected`),
    })),
    hardSignal,
  );
  const standings = plans.map(() => new Map<OscParameter, OscArgument>());
  places.forEach(({ index, name }, at) => {
    const result = results[at];
    if (result?.kind === 'held') standings[index]?.set(name, result.read);
  });
  return standings;
};

/**
 * The last readback: everything wanted of these slots is read anew. What stands otherwise is set once more, since
 * an old message may have arrived late, and read again; whatever then stands is told as it is.
 */
export const readAgain = async (
  plans: readonly SlotPlan[],
  context: CarryOutContext,
): Promise<readonly ReadBack[]> => {
  const { desk, canRead, signal } = context;
  if (!canRead) return plans.map(() => ({ read: new Map(), holds: false, moved: false }));
  const isOpen = (plan: SlotPlan, read: Standing) => nextSteps(plan, read, desk, canRead).length > 0;
  const first = await readSlots(plans, context);
  const astray = plans.flatMap((plan, index) => {
    const standing = first[index];
    return standing && isOpen(plan, standing) ? [{ index, plan, standing }] : [];
  });
  if (astray.length > 0 && !signal.aborted && context.line.lost() === null) {
    await workSlots(
      astray.map(({ plan, standing }) => ({ plan, standing, touched: true, trouble: null })),
      context,
      signal,
    );
  }
  const second = await readSlots(
    astray.map(({ plan }) => plan),
    context,
  );
  return plans.map((plan, index) => {
    const at = astray.findIndex((each) => each.index === index);
    const read = second[at] ?? first[index] ?? new Map();
    return { read, holds: !isOpen(plan, read), moved: at >= 0 };
  });
};
