import { step } from '../units/quantity.js';
import type { Desk, DeskSlotType } from './desk.js';
import { displayValue } from './display.js';
import { type Knob, knobNames } from './knob.js';
import { type Problem, problem } from './problem.js';

/** Steps looked at when a grid is compared with its own display; a finer grid is entered, not clicked. */
const stepsLookedAt = 5000;

/** The first step that shows the same as the one below it, where there is one. */
const firstShownTwice = (slotType: DeskSlotType, knob: Knob, desk: Desk): string | null => {
  const grid = slotType.grids[knob];
  if (!grid || grid.count > stepsLookedAt) return null;
  let before = '';
  for (let index = 0; index < grid.count; index++) {
    const shown = displayValue(knob, grid.valueAt(step(index)), desk.target.display);
    if (shown === before) return shown;
    before = shown;
  }
  return null;
};

/** What may surprise whoever dials on a desk, though nothing is wrong: steps that look alike. */
export const deskNotices = (desk: Desk): readonly Problem[] => {
  const notices = desk.slots.flatMap(({ types }, index) =>
    [...types.values()].flatMap((slotType) =>
      knobNames.flatMap((knob) => {
        const shown = firstShownTwice(slotType, knob, desk);
        return shown === null
          ? []
          : [
              problem(
                'steps-look-alike',
                `slots[${index}].types.${slotType.type}.${knob}`,
                `Neighbouring steps both show ${shown}: count clicks there, or give display.${knob} more digits.`,
              ),
            ];
      }),
    ),
  );
  // One slot is enough to tell by where several share a grid.
  const told = new Set<string>();
  return notices.filter(({ path, message }) => {
    const key = `${path.split('.').at(-1)} ${message}`;
    if (told.has(key)) return false;
    told.add(key);
    return true;
  });
};
