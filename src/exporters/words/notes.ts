import type { Problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';

/** The name of the mix a place lies in. */
const mixNames = ({ path }: Problem, { mixes }: Recipe): readonly string[] => {
  const [, index] = /^mixes\[(\d+)\]/.exec(path) ?? [];
  const mix = index === undefined ? undefined : mixes[Number(index)];
  return mix ? [mix.name] : [];
};

/** Where it stands: its path in the document, and file, line and column where they are known. */
const places = ({ path, source = '', line, column }: Problem): readonly string[] => {
  const position = [line, column].filter((part) => part !== undefined).map((part) => `:${part}`);
  return [path, `${source}${position.join('')}`].filter((part) => part !== '');
};

const joinedOnce = (texts: readonly string[], separator: string): string =>
  [...new Set(texts)].join(separator);

/** Problems that say the same, as one: the mixes they are about, what they say, where they stand. */
export const problemTexts = (problems: readonly Problem[], recipe: Recipe): readonly string[] =>
  [...new Set(problems.map(({ message }) => message))].map((message) => {
    const saying = problems.filter((each) => each.message === message);
    const mixes = joinedOnce(
      saying.flatMap((each) => mixNames(each, recipe)),
      '; ',
    );
    const where = joinedOnce(saying.flatMap(places), ', ');
    return `${mixes === '' ? '' : `${mixes}: `}${message}${where === '' ? '' : ` [${where}]`}`;
  });

/** How many of them are told, those that say the same as one. */
export const undoneCount = ({ problems }: Recipe): number =>
  new Set(problems.map(({ message }) => message)).size;

/** The hazard to hear of before anything is dialled. */
export const firstCaution = 'Mute, or have performers take their in-ears out, before you switch any filter.';

/** What a person has to know before anything is switched, and what none of this is. */
export const cautions: readonly string[] = [
  firstCaution,
  'Start low: bring levels up from the bottom after a change, and listen before a performer does.',
  'This is not hearing protection. It neither measures nor limits sound level.',
  'Transmit only on the frequencies and at the powers your spectrum authority permits.',
  'The rules of the house and the practice of licensed people come first.',
];
