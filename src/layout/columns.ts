import { displayWidth } from './display-width.js';
import { wrap } from './wrap.js';

const gap = '  ';

const padded = (text: string, columns: number): string =>
  text + ' '.repeat(Math.max(0, columns - displayWidth(text)));

/** Blocks of lines side by side, each as wide as its width says: as many lines as the tallest block has. */
export const sideBySide = (
  blocks: readonly (readonly string[])[],
  widths: readonly number[],
): readonly string[] =>
  Array.from({ length: Math.max(...blocks.map((lines) => lines.length)) }, (_, row) =>
    blocks
      .map((lines, column) => padded(lines[row] ?? '', widths[column] ?? 0))
      .join(gap)
      .trimEnd(),
  );

/** Cells side by side, each wrapped inside its own width. */
export const columnLines = (cells: readonly string[], widths: readonly number[]): readonly string[] =>
  sideBySide(
    widths.map((width, column) => wrap(cells[column] ?? '', width)),
    widths,
  );

/** The width that is left for one column beside others. */
export const widthBeside = (widths: readonly number[], columns: number): number =>
  widths.reduce((left, width) => left - width - gap.length, columns);

/** As wide as the widest text, within bounds. */
export const fittingWidth = (texts: readonly string[], least: number, most: number): number =>
  Math.min(most, Math.max(least, ...texts.map(displayWidth)));
