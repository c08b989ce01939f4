import { columnLines, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe } from '../../model/recipe.js';
import { firstCaution } from '../words/notes.js';
import { fitWords, resultText, shortNames, triedText } from '../words/result.js';
import { dialLines, leaveAloneLines } from './mix-blocks.js';
import { cautionLines, noteLines } from './note-lines.js';
import type { Page } from './page.js';
import { withVerdicts } from './with-verdicts.js';

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
