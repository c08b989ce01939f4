import type { Desk } from '../../model/desk.js';
import { isHeld, readbackType, showArgument } from '../plan/readback.js';
import type { ValueReport } from './report.js';
import type { SurveyedMix, SurveyedSlot } from './survey.js';

/** One mix as it stands now, beside what a recipe set. */
export interface VerifiedMix {
  readonly name: string;
  readonly outputs: readonly number[];
  /** `unread`: something did not answer, or not as the target says. */
  readonly state: 'holds' | 'differs' | 'unread';
  readonly values: readonly ValueReport[];
}

const valuesOf = ({ plan, found }: SurveyedSlot, desk: Desk): readonly ValueReport[] => {
  const type = readbackType(plan, found, desk);
  return plan.parameters.flatMap((parameter): ValueReport[] => {
    const wanted = plan.wanted.get(parameter.name);
    if (!wanted) return [];
    const read = found.get(parameter.name);
    const { name, address } = parameter;
    const holds = isHeld(wanted, read, parameter, type);
    return [
      {
        output: plan.output,
        slot: plan.slot.id,
        parameter: name,
        address,
        found: null,
        set: wanted.display,
        read: read ? showArgument(parameter, read, type) : null,
        confirmed: holds,
        state: read === undefined ? 'unread' : holds ? 'held' : 'differs',
      },
    ];
  });
};

/** Whether all that is wanted of a slot stands there, by step. */
export const slotHolds = (slot: SurveyedSlot, desk: Desk): boolean =>
  valuesOf(slot, desk).every(({ state }) => state === 'held');

/** Compares what was read with what is wanted, by step; nothing is written. */
export const verifyMix = ({ plan, slots }: SurveyedMix, desk: Desk): VerifiedMix => {
  const values = slots.flatMap((slot) => valuesOf(slot, desk));
  const has = (state: ValueReport['state']): boolean => values.some((each) => each.state === state);
  return {
    name: plan.name,
    outputs: plan.outputs,
    state: has('differs') ? 'differs' : has('unread') ? 'unread' : 'holds',
    values,
  };
};
