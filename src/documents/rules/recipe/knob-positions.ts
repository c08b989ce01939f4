import { type Knob, knobs } from '../../../model/knob.js';
import { type Problem, problem } from '../../../model/problem.js';
import type { FilterValues, KnobPosition } from '../../../model/recipe.js';
import { filterRule } from './filter-rule.js';

const faultOf = (knob: Knob, position: KnobPosition, set: FilterValues): string | null => {
  const { index, of, fromBottom, fromTop } = position;
  if (index >= of) return `step ${index} is beyond the last of ${of} steps, counted from 0`;
  if (fromBottom !== index || fromTop !== of - 1 - index) {
    return `${fromBottom} clicks from the bottom and ${fromTop} from the top are not step ${index} of ${of}`;
  }
  const { value } = knobs[knob];
  return set[value] === undefined ? `the placed sets no ${value}` : null;
};

const contradiction = (path: string, fault: string): Problem =>
  problem(knobPositions.name, path, `The recipe contradicts itself: ${fault}. Make it anew, or correct it.`);

/**
 * Every filter tells where its frequency knob stands; and a position is one on its grid, told the same way from
 * both stops, of a knob whose value the filter sets.
 */
export const knobPositions = filterRule('knob-positions', ({ steps, set }, path) => {
  const lacking = steps.frequency
    ? []
    : [contradiction(`${path}.steps.frequency`, 'the frequency has no step')];
  const wrong = (Object.entries(steps) as [Knob, KnobPosition][]).flatMap(([knob, position]) => {
    const fault = faultOf(knob, position, set);
    return fault === null ? [] : [contradiction(`${path}.steps.${knob}`, fault)];
  });
  return [...lacking, ...wrong];
});
