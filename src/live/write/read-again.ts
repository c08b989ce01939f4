import type { OscParameter } from '../../model/target.js';
import { numberIn } from '../../osc/encodings/encoding.js';
import type { OscArgument } from '../../osc/message.js';
import type { SlotPlan } from '../plan/plan.js';
import type { Readback } from '../plan/readback.js';
import { convergeSlots, type MixContext } from './converge-slots.js';
import { nextSteps } from './next-steps.js';

/** A slot that is read once more at the end. */
export interface ToReadAgain {
  readonly plan: SlotPlan;
  /** Whether it was last known to stand as wanted. */
  readonly stoodAsWanted: boolean;
  /** Whether it may be set once more where it then stands otherwise. */
  readonly mayMend: boolean;
  /** Whether something that was written to it was never confirmed, and may yet take. */
  readonly mayBeLate: boolean;
}

export interface LastReadback {
  readonly read: Readback;
  readonly holds: boolean;
  /** Whether it stood otherwise at one of the readbacks, though it had stood as wanted. */
  readonly moved: boolean;
  /** Whether all that stood otherwise was its switch, which read as on and was to be off. */
  readonly wentOn: boolean;
  /** Whether it was set once more. */
  readonly mended: boolean;
}

/** Reads what was wanted of some slots, all of it anew. */
const readSlots = async (
  plans: readonly SlotPlan[],
  { session, hardSignal }: MixContext,
): Promise<readonly Readback[]> => {
  const places = plans.flatMap((plan, index) =>
    plan.parameters.filter(({ name }) => plan.wanted.has(name)).map((parameter) => ({ index, parameter })),
  );
  const results = await session.exchange(
    places.map(({ parameter: { address, question, encoding } }) => ({
      address,
      question,
      write: null,
      judge: ({ type }) =>
        type === encoding.type ? null : `it came as ${type}, and ${encoding.type} is expected`,
    })),
    hardSignal,
  );
  const readbacks = plans.map(() => new Map<OscParameter, OscArgument>());
  places.forEach(({ index, parameter }, at) => {
    const result = results[at];
    if (result?.kind === 'held') readbacks[index]?.set(parameter.name, result.read);
  });
  return readbacks;
};

/** Of a switch that is not as wanted: whether it is on. */
const readsOn = (read: Readback): boolean => {
  const told = read.get('on');
  const number = told && numberIn(told);
  return number?.ok === true && number.value !== 0;
};

/** Long enough for what was held up on the way to arrive before a last readback. */
const quietMs = 300;
/** Long enough for a slow desk to take what it has not confirmed: what was sent to it later comes after that. */
const lateMs = 3000;

/** How often what stands otherwise at the last readback is set once more. */
const mostRepairs = 2;

/**
 * The last readback: everything wanted of these slots is read in one pass, once the network has been quiet for a while,
 * and nothing is written after it. What stands otherwise is set once more where it may be, since an old message may have
 * arrived late, and then all of it is read again, since setting one slot may turn another; whatever then stands is told
 * as it is.
 */
export const readAgain = async (
  slots: readonly ToReadAgain[],
  context: MixContext,
): Promise<readonly LastReadback[]> => {
  const { desk, canRead, signal, hardSignal, clock, session } = context;
  if (!canRead || slots.length === 0) {
    return slots.map(() => ({ read: new Map(), holds: false, moved: false, wentOn: false, mended: false }));
  }
  const moved = new Set<ToReadAgain>();
  const wentOn = new Set<ToReadAgain>();
  const mended = new Set<ToReadAgain>();
  const readAll = async (): Promise<readonly (ToReadAgain & LastReadback)[]> => {
    await clock.wait(slots.some(({ mayBeLate }) => mayBeLate) ? lateMs : quietMs, hardSignal);
    const readbacks = await readSlots(
      slots.map(({ plan }) => plan),
      context,
    );
    return slots.map((slot, index) => {
      const read = readbacks[index] ?? new Map();
      const holds = nextSteps(slot.plan, read, desk, canRead).length === 0;
      // Only what was read otherwise has moved; what was not read at all may be as it should.
      const isRead = [...slot.plan.wanted.keys()].every((name) => read.has(name));
      if (slot.stoodAsWanted && !holds && isRead) {
        const steps = nextSteps(slot.plan, read, desk, canRead);
        const isSwitch = steps.every(({ parameter }) => parameter.name === 'on');
        if (isSwitch && readsOn(read)) wentOn.add(slot);
        moved.add(slot);
      }
      return {
        ...slot,
        read,
        holds,
        moved: moved.has(slot),
        wentOn: wentOn.has(slot),
        mended: mended.has(slot),
      };
    });
  };
  let backs = await readAll();
  for (let repair = 0; repair < mostRepairs; repair++) {
    const astray = backs.filter(({ holds, mayMend }) => mayMend && !holds);
    if (astray.length === 0 || signal.aborted || session.lost() !== null) break;
    backs.forEach(({ holds, mayMend }, index) => {
      const slot = slots[index];
      if (slot && mayMend && !holds) mended.add(slot);
    });
    await convergeSlots(
      astray.map(({ plan, read }) => ({ plan, readback: read, touched: true, trouble: null })),
      context,
      // What is begun is seen through: a slot is not left half-way.
      hardSignal,
    );
    backs = await readAll();
  }
  return backs;
};
