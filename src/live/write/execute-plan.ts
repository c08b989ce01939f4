import type { Desk } from '../../model/desk.js';
import type { Problem } from '../../model/problem.js';
import type { OscParameter } from '../../model/target.js';
import type { MixPlan, SlotPlan, Wanted } from '../plan/plan.js';
import { type Readback, readbackType, showArgument } from '../plan/readback.js';
import { convergeSlots, type MixContext, type SlotWork, type Trouble } from './converge-slots.js';
import { renamedMixes } from './names.js';
import { nextSteps } from './next-steps.js';
import { readAgain } from './read-again.js';
import type { SurveyedMix, SurveyedSlot } from './survey.js';

/** How one slot was left. */
export interface SlotDone {
  /** What was to stand there in the end: as planned, or as it was found. */
  readonly goal: 'set' | 'as-found';
  readonly plan: SlotPlan;
  readonly found: Readback;
  readonly touched: boolean;
  /**
   * The last readback, all of it read after everything was written; what is missing did not answer. What was found,
   * where nothing was read since.
   */
  readonly read: Readback;
  /** What was last confirmed while it was written; for a desk that cannot be read, what was sent. */
  readonly confirmed: Readback;
  /** What was written to, whether or not it was confirmed. */
  readonly written: ReadonlySet<OscParameter>;
  /** Whether all of it was read back and stands as the goal says. */
  readonly holds: boolean;
  /** What first went wrong; null where nothing did. */
  readonly trouble: Trouble | null;
  /** Whether it had been confirmed, or found as wanted, and stood otherwise at a readback after that. */
  readonly moved: boolean;
  /** Whether that was only its switch, which had gone on. */
  readonly wentOn: boolean;
  /** Whether it was set once more for that. */
  readonly mended: boolean;
}

export interface MixDone {
  readonly plan: MixPlan;
  readonly slots: readonly SlotDone[];
}

/** How a plan was carried out. */
export interface PlanDone {
  readonly mixes: readonly MixDone[];
  /** Mixes whose outputs came to go by other names meanwhile; nothing was written to any mix once that was seen. */
  readonly renamed: readonly Problem[];
}

/** A slot that nothing was written to. */
export const untouchedSlot = ({ plan, found }: SurveyedSlot, holds: boolean): SlotDone => ({
  goal: 'set',
  plan,
  found,
  touched: false,
  read: found,
  confirmed: found,
  written: new Set(),
  holds,
  trouble: null,
  moved: false,
  wentOn: false,
  mended: false,
});

/** The plan that puts back what was found, to the last digit. */
export const asFound = ({ plan, found }: SurveyedSlot, desk: Desk): SlotPlan => {
  const type = readbackType(plan, found, desk);
  const wanted = plan.parameters.flatMap((parameter) => {
    const argument = found.get(parameter.name);
    if (!argument) return [];
    const value: Wanted = { argument, display: showArgument(parameter, argument, type), byStep: false };
    return [[parameter.name, value] as const];
  });
  return { ...plan, wanted: new Map(wanted) };
};

/** A slot between planning and the last readback. */
interface SlotUnderWay {
  readonly surveyed: SurveyedSlot;
  readonly goal: SlotDone['goal'];
  readonly work: SlotWork;
  readonly trouble: Trouble | null;
}

const putBack = async (
  slots: readonly SlotUnderWay[],
  which: (slot: SlotUnderWay) => boolean,
  context: MixContext,
): Promise<readonly SlotUnderWay[]> => {
  const chosen = slots.filter((slot) => slot.work.touched && which(slot));
  if (chosen.length === 0 || !context.canRead) return slots;
  const works = await convergeSlots(
    chosen.map(({ surveyed, work }) => ({ ...work, plan: asFound(surveyed, context.desk), trouble: null })),
    context,
    context.hardSignal,
  );
  return slots.map((slot): SlotUnderWay => {
    const work = works[chosen.indexOf(slot)];
    return work ? { ...slot, goal: 'as-found', work } : slot;
  });
};

const setMix = async (mix: SurveyedMix, context: MixContext): Promise<readonly SlotUnderWay[]> => {
  const works = await convergeSlots(
    mix.slots.map(({ plan, found, stands }) => ({
      plan,
      readback: stands ?? found,
      touched: stands !== undefined,
      trouble: null,
    })),
    context,
    context.signal,
  );
  const slots = mix.slots.flatMap((surveyed, index): SlotUnderWay[] => {
    const work = works[index];
    return work ? [{ surveyed, goal: 'set', work, trouble: work.trouble }] : [];
  });
  const interrupted = slots.some(({ trouble }) => trouble?.result.kind === 'stopped');
  // Half a mix is worse than the mix that was there; a slot that will not take is no reason to undo the others.
  return putBack(slots, ({ trouble }) => interrupted || trouble !== null, context);
};

/**
 * Writes to mixes one after the other, each once its outputs' names have been read again, and confirmed as it goes; then
 * reads everything of them back in one pass, and of the mixes that were found as wanted. A slot in which something does not
 * take is put back as it was found. What stands otherwise at the last readback is set once more, but for mixes that were
 * found as wanted, of which nothing is kept, and on a desk that was renamed.
 */
export const executePlan = async (
  mixes: readonly SurveyedMix[],
  context: MixContext,
  alike: readonly SurveyedMix[] = [],
): Promise<PlanDone> => {
  const underWay: (readonly SlotUnderWay[])[] = [];
  let renamed: readonly Problem[] = [];
  const isRenamed = async (these: readonly SurveyedMix[]): Promise<boolean> => {
    if (context.canRead && renamed.length === 0)
      renamed = await renamedMixes(these, context.session, context.hardSignal, underWay.length > 0);
    return renamed.length > 0;
  };
  for (const [index, mix] of mixes.entries()) {
    if (context.signal.aborted || context.session.lost() !== null || (await isRenamed([mix]))) break;
    context.onMix(mix.plan.name, index + 1, mixes.length);
    underWay.push(await setMix(mix, context));
  }
  const written = underWay.flat();
  const isWritten = written.some(({ work }) => work.touched);
  const begun = mixes.slice(0, underWay.length);
  if (isWritten) await isRenamed(begun);
  const holds = (plan: SlotPlan, readback: Readback): boolean =>
    context.canRead && nextSteps(plan, readback, context.desk, true).length === 0;
  const toRead = [
    ...written.map(({ surveyed, work, trouble }) => {
      const stoodAsWanted = work.trouble === null && holds(work.plan, work.readback);
      const mayBeLate = trouble !== null && trouble.result.kind !== 'stopped';
      return {
        surveyed,
        plan: work.plan,
        stoodAsWanted,
        mayMend: renamed.length === 0 && (work.touched || stoodAsWanted),
        mayBeLate,
      };
    }),
    ...alike
      .flatMap(({ slots }) => slots)
      .map((surveyed) => ({
        surveyed,
        plan: surveyed.plan,
        stoodAsWanted: true,
        mayMend: false,
        mayBeLate: false,
      })),
  ];
  const backs = isWritten ? await readAgain(toRead, context) : [];
  const backOf = new Map(toRead.map(({ surveyed }, at) => [surveyed, backs[at]]));
  const underWayOf = new Map(written.map((slot) => [slot.surveyed, slot]));

  const slotDone = (surveyed: SurveyedSlot, wasAlike: boolean): SlotDone => {
    const slot = underWayOf.get(surveyed);
    const back = backOf.get(surveyed);
    const wasWritten = surveyed.stands !== undefined;
    const touched = slot?.work.touched === true || back?.mended === true || wasWritten;
    if (!touched || (!back && !wasWritten)) {
      const untouched = untouchedSlot(surveyed, wasAlike || (slot !== undefined && slot.trouble === null));
      return back && context.canRead ? { ...untouched, ...back } : untouched;
    }
    const { plan, found } = surveyed;
    const sent = context.session.written();
    return {
      goal: slot?.goal ?? 'set',
      plan,
      found,
      touched,
      ...(back ?? { read: new Map(), holds: false, moved: false, wentOn: false, mended: false }),
      confirmed: slot?.work.readback ?? surveyed.stands ?? found,
      written: new Set(plan.parameters.flatMap(({ name, address }) => (sent.has(address) ? [name] : []))),
      trouble: slot?.trouble ?? null,
    };
  };
  const mixDone =
    (wasAlike: boolean) =>
    ({ plan, slots }: SurveyedMix): MixDone => ({
      plan,
      slots: slots.map((surveyed) => slotDone(surveyed, wasAlike)),
    });
  // What was written last was written under the names that stand now, or it is told.
  if (isWritten) await isRenamed(begun);
  return { mixes: [...mixes.map(mixDone(false)), ...alike.map(mixDone(true))], renamed };
};
