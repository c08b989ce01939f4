import { columnLines, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe } from '../../model/recipe.js';
import { cautions, problemTexts } from '../words/notes.js';

const numbered = (texts: readonly string[], columns: number): readonly string[] => {
  const digits = String(texts.length).length;
  const widths = [digits, widthBeside([digits], columns)];
  return texts.flatMap((text, index) => columnLines([String(index + 1), text], widths, [0]));
};

const section = (title: string, texts: readonly string[], columns: number): readonly string[] =>
  texts.length === 0 ? [] : ['-'.repeat(columns), ...wrap(title, columns), ...numbered(texts, columns), ''];

/** What could not be done as asked. */
export const undoneLines = (recipe: Recipe, columns: number): readonly string[] =>
  section('PROBLEMS: what could not be done as asked', problemTexts(recipe.problems, recipe), columns);

/** What could not be done as asked, and what was taken for granted. */
export const noteLines = (recipe: Recipe, columns: number): readonly string[] => [
  ...undoneLines(recipe, columns),
  ...section('ASSUMPTIONS: what the files did not say', problemTexts(recipe.assumptions, recipe), columns),
];

/** What these figures do not cover. */
export const cautionLines = (columns: number): readonly string[] => section('CAUTIONS', cautions, columns);
