import { formatExact } from '../../units/format.js';
import { printable } from '../../units/quote.js';

/** A cell: a number, free text, or nothing known. */
export type Cell = number | string | null;

const number = /^-?\d+(\.\d+)?$/;

/** What spreadsheets read as the start of a formula, and the apostrophe that guards against it. */
const guarded = /^[=+\-@']/;

/** Controls, line separators and overrides of direction; a joiner inside an emoji stays what it is. */
const controlling = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

const textCell = (text: string): string => {
  const visible = text.replace(controlling, printable);
  if (number.test(visible)) return visible;
  const safe = guarded.test(visible) ? `'${visible}` : visible;
  return /[",;]|^ | $/.test(safe) || safe !== visible ? `"${safe.replaceAll('"', '""')}"` : safe;
};

const cellText = (cell: Cell): string => {
  if (cell === null) return '';
  return typeof cell === 'number' ? formatExact(cell) : textCell(cell);
};

/** Records as RFC 4180 has them: commas between cells, CRLF after each record, quotes doubled. */
export const csvText = (records: readonly (readonly Cell[])[]): string =>
  records.map((cells) => `${cells.map(cellText).join(',')}\r\n`).join('');
