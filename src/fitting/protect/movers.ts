import type { FilterType } from '../../filters/filter.js';
import type { Intent } from '../../model/intent.js';
import { type Lattice, makeLattice } from './lattice.js';
import type { SlotClass } from './slot-classes.js';

/** The intents whose settings a protective fit chooses itself; all others are fitted by nearest. */
export interface Movers {
  readonly pilotCut: Intent | null;
  readonly highCut: Intent | null;
}

export const moversOf = (intents: readonly Intent[]): Movers => ({
  pilotCut:
    intents.find(({ role, type }) => role === 'pilot-cut' && (type === 'peaking' || type === 'notch')) ??
    null,
  highCut: intents.find(({ role, type }) => role === 'high-cut' && type === 'lowpass') ?? null,
});

const latticesOf = (
  classes: readonly SlotClass[],
  types: readonly FilterType[],
  pilotHz: number,
): readonly Lattice[] =>
  classes
    .flatMap((slotClass) =>
      types.flatMap((type) => {
        const slotType = slotClass.types.get(type);
        return slotType ? [makeLattice(slotClass, slotType, pilotHz)] : [];
      }),
    )
    .filter(({ gains }) => gains.length > 0);

/** Where the high cut may go: to a real one, and only where there is none to a high shelf turned down. */
export const highCutLattices = (
  { highCut }: Movers,
  classes: readonly SlotClass[],
  pilotHz: number,
): readonly Lattice[] => {
  if (!highCut) return [];
  const cuts = latticesOf(classes, ['lowpass'], pilotHz);
  return cuts.length > 0 ? cuts : latticesOf(classes, ['highshelf'], pilotHz);
};

/** Where a cut round the pilot may go: to any bell or notch. */
export const pilotCutLattices = (
  { pilotCut }: Movers,
  classes: readonly SlotClass[],
  pilotHz: number,
): readonly Lattice[] => (pilotCut ? latticesOf(classes, ['peaking', 'notch'], pilotHz) : []);
