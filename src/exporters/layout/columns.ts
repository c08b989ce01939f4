import { displayWidth } from './display-width.js';
import { wrap } from './wrap.js';

const gap = '  ';

const padded = (text: string, columns: number): string =>
  text + ' '.repeat(Math.max(0, columns - displayWidth(text)));

/** Cells side by side, each wrapped inside its own width: as many lines as the tallest cell has. */
export const columnLines = (cells: readonly string[], widths: readonly number[]): readonly string[] => {
  const wrapped = widths.map((width, column) => wrap(cells[column] ?? '', width));
  const height = Math.max(...wrapped.map((lines) => lines.length));
  return Array.from({ length: height }, (_, row) =>
    wrapped
      .map((lines, column) => padded(lines[row] ?? '', widths[column] ?? 0))
      .join(gap)
      .trimEnd(),
  );
};

/** The width that is left for one column beside others. */
export const widthBeside = (widths: readonly number[], columns: number): number =>
  widths.reduce((left, width) => left - width - gap.length, columns);

/** As wide as the widest text, within bounds. */
export const fittingWidth = (texts: readonly string[], least: number, most: number): number =>
  Math.min(most, Math.max(least, ...texts.map(displayWidth)));
