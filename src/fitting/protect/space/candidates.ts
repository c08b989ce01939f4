import type { FilterType } from '../../../filters/filter.js';
import type { Intent } from '../../../model/intent.js';
import { farthestCents } from '../../nearest/nearest.js';
import type { SlotClass } from '../../slot-classes.js';
import { serviceOf } from '../../substitutes.js';
import { type Lattice, makeLattice } from './lattice.js';

/** The intents whose settings a protective fit chooses itself; all others are fitted by nearest. */
export interface Movers {
  readonly highCut: Intent | null;
  /** The cut round the pilot, which further ones stand beside, and whether it may itself be moved. */
  readonly pilotCut: { readonly asked: Intent; readonly isMoved: boolean } | null;
}

/** What a person wrote stays where nearest puts it, unless it says that it may move. */
export const moversOf = (intents: readonly Intent[]): Movers => {
  const pilotCut = intents.find(
    ({ role, type }) => role === 'pilot-cut' && (type === 'peaking' || type === 'notch'),
  );
  return {
    highCut:
      intents.find(({ role, type, mayMove }) => mayMove && role === 'high-cut' && type === 'lowpass') ?? null,
    pilotCut: pilotCut ? { asked: pilotCut, isMoved: pilotCut.mayMove === true } : null,
  };
};

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
