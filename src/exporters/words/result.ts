import type { Recipe, RecipeMix } from '../../model/recipe.js';
import { guardWords, missingText } from './figures.js';
import { hasNothingToDial, isLeftAlone } from './groups.js';

const mixCount = (count: number): string => `${count} ${count === 1 ? 'mix' : 'mixes'}`;

const fallsShort = ({ guard }: RecipeMix): boolean => guard?.verdict === 'falls-short';

/** How many mixes there are to dial, and how they stand. */
export const resultText = ({ mixes }: Recipe): string => {
  const left = mixes.filter(isLeftAlone).length;
  const bare = mixes.filter(hasNothingToDial).length;
  const short = mixes.filter(fallsShort).length;
  const met = mixes.filter(({ guard }) => guard?.verdict === 'met').length;
  const verdicts = [
    ...(met > 0 ? [`${met} ${guardWords.met}`] : []),
    ...(short > 0 ? [`${short} ${guardWords['falls-short']}`] : []),
  ].join(', ');
  const missing = [...new Set(mixes.flatMap((mix) => mix.missing.map(missingText)))].map((text) => {
    const without = mixes.filter((mix) => mix.missing.some((each) => missingText(each) === text)).length;
    return without === mixes.length - left ? text : `${text} on ${without}`;
  });
  return [
    `${mixCount(mixes.length - left - bare)} to dial${verdicts === '' ? '' : `: ${verdicts}`}`,
    ...missing,
    ...(bare > 0 ? [`${bare} with nothing to dial`] : []),
    ...(left > 0 ? [`${left} to leave alone`] : []),
  ].join('; ');
};

/** Which mixes fall short; nothing where all do, or none. */
export const shortNames = ({ mixes }: Recipe): readonly string[] => {
  const short = mixes.filter(fallsShort);
  const guarded = mixes.filter(({ guard }) => guard !== null);
  return short.length === guarded.length ? [] : short.map(({ name }) => name);
};

/** How the steps were chosen. */
export const fitWords: Readonly<Record<Recipe['fit'], string>> = {
  nearest: 'nearest: each knob at its own nearest step',
  match: 'match: the response closest to the one asked for',
  protect: 'protect: the pilot first, the music second',
};

/** What of the target was tried on the real desk. */
export const triedText = ({ target: { evidence } }: Recipe): string =>
  `grid ${evidence.grid}, response ${evidence.response}, push ${evidence.push}`;
