import { columnLines, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe } from '../../model/recipe.js';
import { dialLines, leaveAloneLines } from './mix-blocks.js';
import { cautionLines, firstCaution, noteLines } from './notes.js';
import type { Page } from './page.js';
import { resultText, shortNames, withVerdicts } from './summary.js';

export const fitWords: Readonly<Record<Recipe['fit'], string>> = {
  nearest: 'nearest: each knob at its own nearest step',
  match: 'match: the response closest to the one asked for',
  protect: 'protect: the pilot first, the music second',
};

export const triedText = ({ target: { evidence } }: Recipe): string =>
  `grid ${evidence.grid}, response ${evidence.response}, push ${evidence.push}`;

/** Which mixes fall short, where not all do. */
const shortFacts = (recipe: Recipe): readonly (readonly string[])[] => {
  const names = shortNames(recipe);
  return names.length === 0 ? [] : [['short', names.join('; ')]];
};

const headLines = (recipe: Recipe, { columns, emphasise }: Page): readonly string[] => {
  const thickRule = '='.repeat(columns);
  const widths = [6, widthBeside([6], columns)];
  const facts = [
    ['desk', `${recipe.target.title} (${recipe.target.id})`],
    ['tried', `on the real desk: ${triedText(recipe)}`],
    ['fit', fitWords[recipe.fit]],
  ];
  const missing = recipe.mixes.flatMap((mix) => mix.missing);
  const result = columnLines(['result', resultText(recipe)], widths);
  return [
    thickRule,
    ...wrap(recipe.rig.title, columns),
    thickRule,
    ...facts.flatMap((fact) => columnLines(fact, widths)),
    ...withVerdicts(result, missing, emphasise),
    ...shortFacts(recipe).flatMap((fact) => columnLines(fact, widths)),
    '',
    ...wrap(firstCaution, columns),
    ...wrap('Clicks count from the nearer stop: up from the bottom, down from the top.', columns),
    '',
  ];
};

/** All there is to tell: what is dialled, how far it lies off, why it was chosen, what was taken for granted. */
export const fullLines = (recipe: Recipe, page: Page): readonly string[] => [
  ...headLines(recipe, page),
  ...dialLines(recipe, page),
  ...page.legend,
  ...leaveAloneLines(recipe, page.columns),
  ...noteLines(recipe, page.columns),
  ...cautionLines(page.columns),
];
