import type { DeskSlot } from '../../model/desk.js';
import type { Intent } from '../../model/intent.js';
import type { Band } from '../../model/recipe.js';
import type { Display } from '../../model/target.js';
import { errorOf, place } from '../placement.js';
import type { Found } from './evaluate.js';
import { type Lattice, stepsAt } from './lattice.js';
import type { Movers } from './movers.js';

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
  readonly band: Band;
}

const choicesOf = ({ highCut, cuts }: Found, movers: Movers): readonly Choice[] => {
  const high = movers.highCut;
  const pilot = movers.pilotCut;
  return [
    ...(high && highCut.lattice
      ? [{ role: high.role, asked: high, lattice: highCut.lattice, at: highCut.at }]
      : []),
    ...(pilot
      ? cuts.map(({ lattice, f, w, g }, index) => ({
          role: index === 0 ? pilot.role : `${pilot.role}-${index + 1}`,
          asked: pilot,
          lattice,
          at: [f[0], w[0], g[0]] as const,
        }))
      : []),
  ];
};

/** Gives each filter found a slot of its class, in the order of the desk. */
export const giveSlots = (found: Found, movers: Movers, display: Display): readonly Given[] => {
  const taken = new Set<DeskSlot>();
  return choicesOf(found, movers).map(({ role, asked, lattice, at }) => {
    const { slotType } = lattice;
    const slot = lattice.slotClass.slots.find((candidate) => !taken.has(candidate));
    if (!slot) throw new RangeError('a search gave out more slots than there are');
    taken.add(slot);
    const { type } = slotType;
    const { set, steps } = place(asked, slotType, display, stepsAt(lattice, ...at));
    return {
      lattice,
      band: { slot: slot.id, role, type, asked, set, steps, error: errorOf(type, asked, set) },
    };
  });
};
