import { buildSections } from '../filters/build.js';
import { type Step, step } from '../units/quantity.js';
import { quote } from '../units/quote.js';
import type { DeskSlotType } from './desk.js';
import { filterOf } from './filter-of.js';
import { type Knob, knobNames, knobs } from './knob.js';
import type { Target } from './target.js';

type Steps = Readonly<Partial<Record<Knob, Step>>>;

/** Every knob at one of its ends, in every combination. */
const corners = ({ grids }: DeskSlotType): readonly Steps[] =>
  knobNames.reduce<readonly Steps[]>(
    (all, knob) => {
      const grid = grids[knob];
      const ends = grid ? [...new Set([0, grid.count - 1])] : [];
      return grid ? all.flatMap((steps) => ends.map((end) => ({ ...steps, [knob]: step(end) }))) : all;
    },
    [{}],
  );

/**
 * Why a realisation cannot build what the ends of a type's knobs say, as the end of a sentence; null where it can. What
 * overflows does so at an end: every coefficient goes one way with each knob.
 */
export const unbuildable = (type: DeskSlotType, { realisations }: Target): string | null => {
  for (const realisation of realisations) {
    for (const filter of corners(type).map((steps) => filterOf(type, steps))) {
      try {
        buildSections(filter, realisation);
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        const settings = knobNames
          .filter((knob) => type.grids[knob])
          .map((knob) => `${knob} ${filter[knobs[knob].value]}`);
        return `realisation ${quote(realisation.id)} cannot build it at ${settings.join(', ')}. End one of these grids sooner or correct the realisation`;
      }
    }
  }
  return null;
};
