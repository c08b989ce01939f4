import { type Knob, knobs } from '../../../model/knob.js';
import { type Problem, problem } from '../../../model/problem.js';
import type { BandValues, KnobPosition } from '../../../model/recipe.js';
import { bandRule } from './band-rule.js';

const faultOf = (knob: Knob, position: KnobPosition, set: BandValues): string | null => {
  const { index, of, fromBottom, fromTop } = position;
  if (index >= of) return `step ${index} is beyond the last of ${of} steps, counted from 0`;
  if (fromBottom !== index || fromTop !== of - 1 - index) {
    return `${fromBottom} clicks from the bottom and ${fromTop} from the top are not step ${index} of ${of}`;
  }
  const { value } = knobs[knob];
  return set[value] === undefined ? `the band sets no ${value}` : null;
};

/** A knob's position is one on its grid, told the same way from both stops, and the band sets its value. */
export const knobPositions = bandRule('knob-positions', ({ steps, set }, path) =>
  (Object.entries(steps) as [Knob, KnobPosition][]).flatMap(([knob, position]): readonly Problem[] => {
    const fault = faultOf(knob, position, set);
    return fault === null
      ? []
      : [
          problem(
            knobPositions.name,
            `${path}.steps.${knob}`,
            `The recipe contradicts itself: ${fault}. Make it anew, or correct it.`,
          ),
        ];
  }),
);
