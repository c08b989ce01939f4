import type { DeskSlotType } from '../../model/desk.js';
import { displayValue } from '../../model/display.js';
import type { Intent } from '../../model/intent.js';
import { type Knob, knobs } from '../../model/knob.js';
import type { Display } from '../../model/target.js';
import { step } from '../../units/quantity.js';
import type { Shortcoming } from '../fit.js';
import type { Given } from './placed-filters.js';

/** Knobs that cannot go where even a protective fit would want them. */
const telling: readonly Knob[] = ['frequency', 'gain'];

/** The stop of a knob that keeps it from what was asked; null where none does. */
const stopShort = (asked: Intent, { grids }: DeskSlotType, knob: Knob): number | null => {
  const grid = grids[knob];
  const wanted = asked[knobs[knob].value];
  if (!grid || wanted === undefined) return null;
  const [bottom, top] = [grid.valueAt(step(0)), grid.valueAt(step(grid.count - 1))];
  if (wanted < bottom) return bottom;
  return wanted > top ? top : null;
};

/**
 * What of one choice is otherwise than asked, and not because it does better so: another type where there is no slot
 * for the one asked, and the stops of knobs that would not go as far as asked.
 */
export const shortcomingsOf = (
  { placed, lattice }: Given,
  display: Display,
  hasAskedType: boolean,
): readonly Shortcoming[] => {
  const { asked } = placed;
  // A further cut is nobody's request, and misses nothing.
  if (placed.role !== asked.role) return [];
  if (placed.type !== asked.type) return hasAskedType ? [] : [{ kind: 'stand-in', intent: asked, placed }];
  const ends = telling.flatMap((knob) => {
    const stop = stopShort(asked, lattice.slotType, knob);
    return stop === null ? [] : [[knob, displayValue(knob, stop, display)] as const];
  });
  return ends.length === 0
    ? []
    : [
        {
          kind: 'beyond-range',
          intent: asked,
          placed,
          knobs: ends.map(([knob]) => knob),
          ends: Object.fromEntries(ends),
        },
      ];
};
