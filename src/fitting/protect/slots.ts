import type { Lattice } from './lattice.js';
import type { SlotClass } from './slot-classes.js';

/** Whether the desk has slots enough for filters on these lattices, a slot each. */
export const slotsSuffice = (lattices: readonly Lattice[]): boolean => {
  const wanted = new Map<SlotClass, number>();
  for (const { slotClass } of lattices) wanted.set(slotClass, (wanted.get(slotClass) ?? 0) + 1);
  return [...wanted].every(([slotClass, count]) => count <= slotClass.slots.length);
};

/** Every way of giving so many cuts a lattice and a slot each, order left aside. */
export const latticeChoices = (
  lattices: readonly Lattice[],
  count: number,
): readonly (readonly Lattice[])[] =>
  count === 0
    ? [[]]
    : lattices.flatMap((lattice, index) =>
        latticeChoices(lattices.slice(index), count - 1)
          .map((rest) => [lattice, ...rest])
          .filter(slotsSuffice),
      );
