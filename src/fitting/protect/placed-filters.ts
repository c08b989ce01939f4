import type { DeskSlot, DeskSlotType } from '../../model/desk.js';
import { displayValue } from '../../model/display.js';
import type { Intent } from '../../model/intent.js';
import { type Knob, knobs } from '../../model/knob.js';
import type { PlacedFilter } from '../../model/recipe.js';
import type { Display } from '../../model/target.js';
import { step } from '../../units/quantity.js';
import type { Shortcoming } from '../fit.js';
import { errorOf, place } from '../placement.js';
import type { Found } from './search/evaluate.js';
import type { Candidates, Movers } from './space/candidates.js';
import { type Lattice, stepsAt } from './space/lattice.js';

/** A point of a lattice and the intent it serves. */
interface Choice {
  readonly role: string;
  readonly asked: Intent;
  readonly lattice: Lattice;
  readonly at: readonly [f: number, w: number, g: number];
}

/** A choice on a slot of its own. */
export interface Given {
  readonly lattice: Lattice;
  readonly placed: PlacedFilter;
}

/** A cut that stands beside the one asked for goes by its role and a number. */
const choicesOf = (
  { singles }: Found,
  { highCuts }: Candidates,
  { highCut, pilotCut }: Movers,
): readonly Choice[] => {
  let cuts = pilotCut?.isMoved ? 0 : 1;
  return singles.map(({ lattice, f, w, g }) => {
    const at = [f[0], w[0], g[0]] as const;
    const asked = highCuts.includes(lattice) ? highCut : (pilotCut?.asked ?? null);
    if (!asked) throw new RangeError('a search set a filter that nobody asked for');
    if (asked === highCut) return { role: asked.role, asked, lattice, at };
    cuts++;
    return { role: cuts === 1 ? asked.role : `${asked.role}-${cuts}`, asked, lattice, at };
  });
};

/** Gives each filter found a slot of its class, in the order of the desk. */
export const giveSlots = (
  found: Found,
  candidates: Candidates,
  movers: Movers,
  display: Display,
): readonly Given[] => {
  const taken = new Set<DeskSlot>();
  return choicesOf(found, candidates, movers).map(({ role, asked, lattice, at }) => {
    const { slotType } = lattice;
    const slot = lattice.slotClass.slots.find((candidate) => !taken.has(candidate));
    if (!slot) throw new RangeError('a search gave out more slots than there are');
    taken.add(slot);
    const { type } = slotType;
    const { set, steps } = place(asked, slotType, display, stepsAt(lattice, ...at));
    return {
      lattice,
      placed: { slot: slot.id, role, type, asked, set, steps, error: errorOf(type, asked, set) },
    };
  });
};

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
  if (placed.type !== asked.type) return hasAskedType ? [] : [{ kind: 'substitute', intent: asked, placed }];
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
