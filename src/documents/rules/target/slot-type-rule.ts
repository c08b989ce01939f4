import type { FilterType } from '../../../filters/filter.js';
import type { Problem } from '../../../model/problem.js';
import type { SlotType, Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';

/** One filter type that a slot offers, and the path to it. */
export interface OfferedType {
  readonly type: FilterType;
  readonly offered: SlotType;
  readonly path: string;
}

/** Every filter type of every slot of a target. */
export const offeredTypes = ({ slots }: Target): readonly OfferedType[] =>
  slots.flatMap(({ types }, index) =>
    (Object.entries(types) as [FilterType, SlotType][]).map(([type, offered]) => ({
      type,
      offered,
      path: `slots[${index}].types.${type}`,
    })),
  );

/** A rule about each filter type that a slot offers, on its own. */
export const slotTypeRule = (
  name: string,
  check: (each: OfferedType, target: Target) => readonly Problem[],
): Rule<Target> => ({
  name,
  check: (target) => offeredTypes(target).flatMap((each) => check(each, target)),
});
