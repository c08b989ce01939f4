import { type Knob, knobs } from '../../model/knob.js';
import type { FilterValues, KnobPosition, Recipe } from '../../model/recipe.js';
import { quote } from '../../units/quote.js';
import { outputsOfOneMix, uniqueMixNames } from './mixes.js';
import { type Breach, type Rule, repeated, rule } from './rule.js';

/** A slot of a mix holds one filter; a second would overwrite the first. */
const oneFilterASlot: Rule<Recipe> = rule('one-filter-a-slot', ({ mixes }) =>
  mixes.flatMap(({ filters }, mix) =>
    repeated(filters.map(({ slot }) => slot)).map(
      ({ name, index, firstIndex }): Breach => [
        `mixes[${mix}].filters[${index}].slot`,
        `Slot ${quote(name)} is set by filters[${firstIndex}] already. Make the recipe anew, or correct one of them.`,
      ],
    ),
  ),
);

const positionFault = (knob: Knob, position: KnobPosition, set: FilterValues): string | null => {
  const { index, of, fromBottom, fromTop } = position;
  if (index >= of) return `step ${index} is beyond the last of ${of} steps, counted from 0`;
  if (fromBottom !== index || fromTop !== of - 1 - index) {
    return `${fromBottom} clicks from the bottom and ${fromTop} from the top are not step ${index} of ${of}`;
  }
  const { value } = knobs[knob];
  return set[value] === undefined ? `the filter sets no ${value}` : null;
};

/**
 * Every filter tells where its frequency knob stands; and a position is one on its grid, told the same way from
 * both stops, of a knob whose value the filter sets.
 */
const knobPositions: Rule<Recipe> = rule('knob-positions', ({ mixes }) =>
  mixes.flatMap(({ filters }, mix) =>
    filters.flatMap(({ steps, set }, index) => {
      const contradiction = (knob: string, fault: string): Breach => [
        `mixes[${mix}].filters[${index}].steps.${knob}`,
        `The recipe contradicts itself: ${fault}. Make it anew, or correct it.`,
      ];
      const lacking = steps.frequency ? [] : [contradiction('frequency', 'the frequency has no step')];
      const wrong = (Object.entries(steps) as [Knob, KnobPosition][]).flatMap(([knob, position]) => {
        const fault = positionFault(knob, position, set);
        return fault === null ? [] : [contradiction(knob, fault)];
      });
      return [...lacking, ...wrong];
    }),
  ),
);

/** What holds for recipes, which may have been edited by hand since they were made. */
export const recipeRules: readonly Rule<Recipe>[] = [
  uniqueMixNames,
  outputsOfOneMix,
  oneFilterASlot,
  knobPositions,
];
