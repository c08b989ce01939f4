import type { Problem } from '../../../model/problem.js';
import type { Band, Recipe } from '../../../model/recipe.js';
import type { Rule } from '../rule.js';

/** A rule about each band of each mix, on its own. */
export const bandRule = (
  name: string,
  check: (band: Band, path: string) => readonly Problem[],
): Rule<Recipe> => ({
  name,
  check: ({ mixes }) =>
    mixes.flatMap(({ bands }, mix) =>
      bands.flatMap((band, index) => check(band, `mixes[${mix}].bands[${index}]`)),
    ),
});
