import { problem } from '../../../model/problem.js';
import type { Recipe } from '../../../model/recipe.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

/** A slot of a mix holds one filter; a second would overwrite the first. */
export const oneFilterASlot: Rule<Recipe> = {
  name: 'one-filter-a-slot',
  check: ({ mixes }) =>
    mixes.flatMap(({ filters }, mix) =>
      repeated(filters.map(({ slot }) => slot)).map(({ name, index, firstIndex }) =>
        problem(
          oneFilterASlot.name,
          `mixes[${mix}].filters[${index}].slot`,
          `Slot ${quote(name)} is set by filters[${firstIndex}] already. Make the recipe anew, or correct one of them.`,
        ),
      ),
    ),
};
