import { columnLines, widthBeside } from '../../layout/columns.js';
import type { Guard, MissingFilter } from '../../model/recipe.js';
import {
  figureText,
  guardWords,
  isMissed,
  judgedFigures,
  missingText,
  missText,
  originText,
  overProgrammeText,
} from '../words/figures.js';

/** Verdicts, and figures by name. */
const verdictColumns = 11;
const figureColumns = 5;
/** Figures stand under the reason of the verdict, or a little in where room is short. */
const roomyColumns = 60;
const shortIndent = 0;

/**
 * The verdict and its reason, and under it each figure with the limit it was judged by. What the pilot comes to
 * over a programme has no limit; it stands under the pilot.
 */
export const guardLines = (
  guard: Guard,
  missing: readonly MissingFilter[],
  columns: number,
): readonly string[] => {
  const figures = judgedFigures(guard);
  const missed = figures.filter(isMissed).map(missText);
  const without = missing.map(missingText);
  const told = [...without, ...missed, originText(guard.byRealisation.length)];
  const [pilot = [], ...others] = figures.map((judged) => [judged.what, figureText(judged)]);
  const rows = [pilot, ['', overProgrammeText(guard)], ...others];
  const widths = [columns < roomyColumns ? shortIndent : verdictColumns, figureColumns];
  const figureWidths = [...widths, widthBeside(widths, columns)];
  return [
    ...columnLines(
      [guardWords[guard.verdict], told.join(', ')],
      [verdictColumns, widthBeside([verdictColumns], columns)],
    ),
    ...rows.flatMap((cells) => columnLines(['', ...cells], figureWidths)),
  ];
};
