import { problem } from '../../../model/problem.js';
import type { Recipe } from '../../../model/recipe.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

/** A slot of a mix holds one band; a second would overwrite the first. */
export const oneBandASlot: Rule<Recipe> = {
  name: 'one-band-a-slot',
  check: ({ mixes }) =>
    mixes.flatMap(({ bands }, mix) =>
      repeated(bands.map(({ slot }) => slot)).map(({ name, index, firstIndex }) =>
        problem(
          oneBandASlot.name,
          `mixes[${mix}].bands[${index}].slot`,
          `Slot ${quote(name)} is set by bands[${firstIndex}] already. Make the recipe anew, or correct one of them.`,
        ),
      ),
    ),
};
