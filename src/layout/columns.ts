import { printable } from '../units/quote.js';
import { displayWidth } from './display-width.js';
import { wrap } from './wrap.js';

const gap = '  ';

const padded = (text: string, columns: number, toTheRight: boolean): string => {
  const blanks = ' '.repeat(Math.max(0, columns - displayWidth(text)));
  return toTheRight ? blanks + text : text + blanks;
};

/**
 * Blocks of lines side by side, each as wide as its width says: as many lines as the tallest block has. `right`
 * numbers the blocks, from 0, that are aligned to the right; `between` stands between blocks.
 */
export const sideBySide = (
  blocks: readonly (readonly string[])[],
  widths: readonly number[],
  right: readonly number[] = [],
  between = gap,
): readonly string[] =>
  Array.from({ length: Math.max(...blocks.map((lines) => lines.length)) }, (_, row) =>
    blocks
      .map((lines, column) => padded(lines[row] ?? '', widths[column] ?? 0, right.includes(column)))
      .join(between)
      .trimEnd(),
  );

/** A cell inside a width; blanks at its beginning indent all its lines. */
const cellLines = (cell: string, width: number): readonly string[] => {
  const [indent = ''] = /^ */.exec(cell) ?? [];
  return wrap(cell, width - indent.length).map((line) => `${indent}${line}`);
};

/** Cells side by side, each wrapped inside its own width. */
export const columnLines = (
  cells: readonly string[],
  widths: readonly number[],
  right: readonly number[] = [],
): readonly string[] =>
  sideBySide(
    widths.map((width, column) => cellLines(cells[column] ?? '', width)),
    widths,
    right,
  );

/** The width that is left for one column beside others. */
export const widthBeside = (widths: readonly number[], columns: number): number =>
  widths.reduce((left, width) => left - width - gap.length, columns);

/** As wide as the widest text, within bounds. */
export const fittingWidth = (texts: readonly string[], least: number, most: number): number =>
  Math.min(most, Math.max(least, ...texts.map(displayWidth)));

/** Text is wrapped down to this before a column of figures is. */
const narrowText = 8;

/** Takes what is too much from the widest column at a time: from text first, from figures if that is not enough. */
const narrowed = (
  natural: readonly number[],
  columns: number,
  right: readonly number[],
): readonly number[] => {
  const widths = [...natural];
  let tooMuch = -widthBeside(widths, columns) - gap.length;
  const narrow = (candidates: readonly number[], least: number): void => {
    while (tooMuch > 0) {
      const widest = candidates.reduce(
        (a, b) => ((widths[b] ?? 0) > (widths[a] ?? 0) ? b : a),
        candidates[0] ?? 0,
      );
      const width = widths[widest] ?? 0;
      if (width <= least) return;
      widths[widest] = width - 1;
      tooMuch--;
    }
  };
  const all = widths.map((_, column) => column);
  narrow(
    all.filter((column) => !right.includes(column)),
    narrowText,
  );
  narrow(all, 1);
  return widths;
};

/**
 * Rows of cells as aligned lines without borders: every column as wide as its widest cell or, where that would be
 * wider than `columns` together, with the widest cells wrapped. `right` numbers the columns, from 0, that are aligned
 * to the right.
 */
export const tableLines = (
  rows: readonly (readonly string[])[],
  right: readonly number[] = [],
  columns = Number.POSITIVE_INFINITY,
): readonly string[] => {
  const count = Math.max(0, ...rows.map((cells) => cells.length));
  const natural = Array.from({ length: count }, (_, column) =>
    Math.max(...rows.map((cells) => displayWidth(printable(cells[column] ?? '')))),
  );
  const widths = narrowed(natural, columns, right);
  return rows.flatMap((cells) => columnLines(cells, widths, right));
};
