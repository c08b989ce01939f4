import { columnLines, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import type { Recipe } from '../../model/recipe.js';

const numbered = (texts: readonly string[], columns: number): readonly string[] => {
  const digits = String(texts.length).length;
  const widths = [digits, widthBeside([digits], columns)];
  return texts.flatMap((text, index) => columnLines([String(index + 1), text], widths, [0]));
};

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

const section = (title: string, texts: readonly string[], columns: number): readonly string[] =>
  texts.length === 0 ? [] : ['-'.repeat(columns), ...wrap(title, columns), ...numbered(texts, columns), ''];

/** What could not be done as asked. */
export const undoneLines = (recipe: Recipe, columns: number): readonly string[] =>
  section('PROBLEMS: what could not be done as asked', problemTexts(recipe.problems, recipe), columns);

/** How many of them are told, those that say the same as one. */
export const undoneCount = ({ problems }: Recipe): number =>
  new Set(problems.map(({ message }) => message)).size;

/** What could not be done as asked, and what was taken for granted. */
export const noteLines = (recipe: Recipe, columns: number): readonly string[] => [
  ...undoneLines(recipe, columns),
  ...section('ASSUMPTIONS: what the files did not say', problemTexts(recipe.assumptions, recipe), columns),
];

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

/** What these figures do not cover. */
export const cautionLines = (columns: number): readonly string[] => section('CAUTIONS', cautions, columns);
