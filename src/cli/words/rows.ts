import { displayWidth } from '../../layout/display-width.js';
import { wrap } from '../../layout/wrap.js';
import { tableLines } from '../../layout/columns.js';

/** A row of a table, and the same in words for a window that is too narrow for the table. */
export interface Row {
  readonly cells: readonly string[];
  /** Empty for a row that only heads the others. */
  readonly words: string;
}

/** Rows as a table where it is no wider than `columns`, else each in words, further lines of it set in by two more. */
export const rowLines = (
  rows: readonly Row[],
  right: readonly number[],
  columns: number,
): readonly string[] => {
  const table = tableLines(
    rows.map(({ cells }) => cells),
    right,
  );
  if (Math.max(...table.map(displayWidth)) <= columns) return table;
  return rows.flatMap(({ words }) => {
    if (words === '') return [];
    const indent = ' '.repeat(words.length - words.trimStart().length);
    return wrap(words, columns - indent.length, '  ').map((line) => `${indent}${line}`);
  });
};
