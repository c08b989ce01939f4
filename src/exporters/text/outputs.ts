import type { Recipe, RecipeMix } from '../../model/recipe.js';
import type { Link } from '../../model/rig.js';

const linkWords: Readonly<Record<Link, string>> = {
  'fm-stereo': 'FM stereo',
  digital: 'digital',
  wired: 'wired',
};

/** The outputs of a mix: `3/4`, or that none was named. */
export const outputsText = ({ outputs }: RecipeMix): string =>
  outputs.length === 0 ? 'no output named' : outputs.join('/');

export const isDialledTwice = ({ outputs }: RecipeMix, { target }: Recipe): boolean =>
  outputs.length > 1 && target.stereo === 'legs-separate';

/** A box to tick for each time the filters are to be dialled. */
export const tickBoxes = (mix: RecipeMix, recipe: Recipe): string =>
  isDialledTwice(mix, recipe)
    ? mix.outputs.map((output) => `[ ] ${output}`).join('  ')
    : `[ ] ${outputsText(mix)}`;

/** The system a mix feeds and its link, once where they are called the same: `packs-a, FM stereo`. */
export const systemText = ({ system, link }: RecipeMix): string =>
  [...new Set([system, link === null ? null : linkWords[link]])].filter((word) => word !== null).join(', ');
