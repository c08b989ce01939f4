import type { FilterType } from '../../../filters/filter.js';
import type { Intent } from '../../../model/intent.js';
import { farthestCents } from '../../nearest/nearest.js';
import type { SlotClass } from '../../slot-classes.js';
import { serviceOf } from '../../substitutes.js';
import type { Movers } from '../movers.js';
import { type Lattice, makeLattice } from './lattice.js';

/** What a search may choose from: lattices for the high cut and for the cuts round the pilot; either may be empty. */
export interface Candidates {
  readonly highCuts: readonly Lattice[];
  readonly pilotCuts: readonly Lattice[];
}

/** A third of an octave as a ratio, with room for the last bits of a frequency exactly that far off. */
const third = 2 ** (farthestCents / 1200) * (1 + 1e-12);

/** Every setting of these types that serves an intent: a third of an octave from it at most. */
const latticesFor = (
  asked: Intent | null,
  types: readonly FilterType[],
  classes: readonly SlotClass[],
): readonly Lattice[] =>
  asked === null
    ? []
    : classes.flatMap((slotClass) =>
        types.flatMap((type) => {
          const slotType = slotClass.types.get(type);
          if (!slotType || serviceOf(asked, new Map([[type, slotType]])) === null) return [];
          const { frequencyHz } = asked;
          return makeLattice(slotClass, slotType, frequencyHz / third, frequencyHz * third) ?? [];
        }),
      );

/** What may serve as high cut, a cut or a shelf, and what as a cut round the pilot, a bell or a notch. */
export const candidatesOf = ({ highCut, pilotCut }: Movers, classes: readonly SlotClass[]): Candidates => ({
  highCuts: latticesFor(highCut, ['lowpass', 'highshelf'], classes),
  pilotCuts: latticesFor(pilotCut?.asked ?? null, ['peaking', 'notch'], classes),
});
