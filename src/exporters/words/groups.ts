import type { Recipe, RecipeMix } from '../../model/recipe.js';
import type { Link } from '../../model/rig.js';

export const linkWords: Readonly<Record<Link, string>> = {
  'fm-stereo': 'FM stereo',
  digital: 'digital',
  wired: 'wired',
};

/** The outputs of a mix: `3/4`, or that none was named. */
export const outputsText = ({ outputs }: RecipeMix): string =>
  outputs.length === 0 ? 'no output named' : outputs.join('/');

export const isDialledTwice = ({ outputs }: RecipeMix, { target }: Recipe): boolean =>
  outputs.length > 1 && target.stereo === 'legs-separate';

export const bothLegs = 'dial both legs: each output of a pair has filters of its own';

/** Mixes of which something is the same, by first appearance. */
const alike = (
  mixes: readonly RecipeMix[],
  sameness: (mix: RecipeMix) => unknown,
): readonly (readonly [RecipeMix, ...RecipeMix[]])[] => {
  const groups = new Map<string, [RecipeMix, ...RecipeMix[]]>();
  for (const mix of mixes) {
    const key = JSON.stringify(sameness(mix));
    const group = groups.get(key);
    if (group) group.push(mix);
    else groups.set(key, [mix]);
  }
  return [...groups.values()];
};

export const isLeftAlone = ({ treatment }: RecipeMix): boolean => treatment === 'leave-alone';

/** A mix on which no filter found a slot: there is a pilot to guard, and nothing to dial for it. */
export const hasNothingToDial = (mix: RecipeMix): boolean => !isLeftAlone(mix) && mix.filters.length === 0;

/** A box to tick for each time the filters are to be dialled; none where there are none. */
export const tickBoxes = (mix: RecipeMix, recipe: Recipe): string => {
  if (hasNothingToDial(mix)) return outputsText(mix);
  return isDialledTwice(mix, recipe)
    ? mix.outputs.map((output) => `[ ] ${output}`).join(' ')
    : `[ ] ${outputsText(mix)}`;
};

/** The mixes that are not left alone, together those of which all but the name, the outputs and the system is the same. */
export const dialGroups = ({ mixes }: Recipe): ReturnType<typeof alike> =>
  alike(
    mixes.filter((mix) => !isLeftAlone(mix)),
    ({ treatment, filters, guard, nearest, missing }) => [treatment, filters, guard, nearest, missing],
  );

/** The mixes to leave alone, together those with the same reason. */
export const leaveAloneGroups = ({ mixes }: Recipe): ReturnType<typeof alike> =>
  alike(mixes.filter(isLeftAlone), ({ reason }) => reason);

export const capitalised = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
