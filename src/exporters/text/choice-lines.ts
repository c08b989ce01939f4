import { columnLines, sideBySide, widthBeside } from '../../layout/columns.js';
import { hang, wrap } from '../../layout/wrap.js';
import type { RecipeMix } from '../../model/recipe.js';
import { choicesOf, type SettingChoice } from '../words/choices.js';

const figureWidths = [8, 5, 5];
const figuresToTheRight = [1, 2];
const indent = 11;
/** Words stand beside the figures where there is room, and under them where not. */
const roomyColumns = 60;

const choiceRow = (
  { name, pilot, music, about, whole = [] }: SettingChoice,
  columns: number,
): readonly string[] => {
  const cells = [name, pilot, music];
  const words = about.join('; ');
  if (columns < roomyColumns) {
    return [
      ...columnLines(cells, figureWidths, figuresToTheRight).map((line) => `  ${line}`),
      ...(words === '' ? [] : hang('    ', words, columns, whole)),
    ];
  }
  const widths = [indent, ...figureWidths];
  const room = widthBeside(widths, columns);
  return sideBySide(
    [[''], ...cells.map((cell) => [cell]), wrap(words, room, '', whole)],
    [...widths, room],
    figuresToTheRight.map((column) => column + 1),
  );
};

/** The choices as a table. */
export const choiceLines = (mix: RecipeMix, columns: number): readonly string[] => {
  const choices = choicesOf(mix);
  const head: SettingChoice = { name: 'dB', pilot: 'pilot', music: 'music', about: [] };
  return (choices.length > 0 ? [head, ...choices] : []).flatMap((choice) => choiceRow(choice, columns));
};
