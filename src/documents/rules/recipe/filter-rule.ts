import type { Problem } from '../../../model/problem.js';
import type { PlacedFilter, Recipe } from '../../../model/recipe.js';
import type { Rule } from '../rule.js';

/** A rule about each filter of each mix, on its own. */
export const filterRule = (
  name: string,
  check: (placed: PlacedFilter, path: string) => readonly Problem[],
): Rule<Recipe> => ({
  name,
  check: ({ mixes }) =>
    mixes.flatMap(({ filters }, mix) =>
      filters.flatMap((placed, index) => check(placed, `mixes[${mix}].filters[${index}]`)),
    ),
});
