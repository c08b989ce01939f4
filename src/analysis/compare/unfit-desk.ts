import type { Desk } from '../../model/desk.js';
import type { Rig } from '../../model/rig.js';
import { rigOnDeskProblems } from '../../recipes/rig-on-desk.js';
import type { UnfitDesk } from './compared-desk.js';

/** What keeps a rig off a desk; null where it fits. */
export const unfitDesk = (name: string, desk: Desk, rig: Rig): UnfitDesk | null => {
  const problems = rigOnDeskProblems(rig, desk);
  if (problems.length === 0) return null;
  const { id, title, outputs } = desk.target;
  const highestUsed = Math.max(0, ...rig.mixes.flatMap((mix) => mix.outputs));
  const known = new Set(desk.slots.map((slot) => slot.id));
  const named = new Set(rig.mixes.flatMap(({ freeSlots = [] }) => freeSlots));
  return {
    name,
    id,
    title,
    fits: false,
    outputs: highestUsed > outputs.count ? { count: outputs.count, highestUsed } : null,
    slotsUnknown: [...named].filter((slot) => !known.has(slot)),
    problems,
  };
};
