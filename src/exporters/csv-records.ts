import { formatExact } from '../units/format.js';
import { printable } from '../units/quote.js';

/** A cell: a number, free text, or nothing known. */
export type Cell = number | string | null;

/** A number as every spreadsheet reads it: no formula, whatever its sign. */
const number = /^[+-]?\d+(\.\d+)?$/;

/**
 * What spreadsheets read as the start of a formula (OWASP, "CSV Injection"), full-width forms and blanks before it
 * included, and the apostrophe that guards against it.
 */
const guarded = /^\s*[=+\-@＝＋－＠']/u;

/** Controls, line separators and overrides of direction; a joiner inside an emoji stays what it is. */
const controlling = /[\p{Cc}\u2028\u2029\u202a-\u202e\u2066-\u2069]/gu;

const textCell = (text: string): string => {
  const visible = text.replace(controlling, printable);
  if (number.test(visible)) return visible;
  const safe = guarded.test(visible) ? `'${visible}` : visible;
  return /[",;]|^ | $/.test(safe) || safe !== visible ? `"${safe.replaceAll('"', '""')}"` : safe;
};

/** Digits that tell a value that was stated, not worked out. */
const statedDigits = 9;
/** Digits of a value that was worked out. */
const workedOutDigits = 6;
/** IEEE 754: so many tell any two binary64 values apart. */
const mostDigits = 17;

/**
 * A number of sensible length: as it is where it is whole or was stated in nine significant digits or fewer, to six
 * significant digits where it was worked out, or to more where `leastDigits` says so.
 * Throws RangeError for NaN and the infinities.
 */
export const numberText = (value: number, leastDigits = workedOutDigits): string => {
  const isStated = Number.isInteger(value) || Number(value.toPrecision(statedDigits)) === value;
  if (isStated) return formatExact(value);
  const digits = Math.min(mostDigits, Math.max(leastDigits, workedOutDigits));
  return formatExact(Number(value.toPrecision(digits)));
};

/** Worked-out decibels nearer to 0 than this are what arithmetic leaves of none: half the sixth decimal place. */
const leastDecibels = 0.0000005;

const cellText = (cell: Cell, columnName: Cell | undefined): string => {
  if (cell === null) return '';
  if (typeof cell === 'string') return textCell(cell);
  const isDecibels = typeof columnName === 'string' && columnName.endsWith('_db');
  return numberText(isDecibels && Math.abs(cell) <= leastDecibels ? 0 : cell);
};

/**
 * Records as RFC 4180 has them: commas between cells, CRLF after each record, quotes doubled; the first names the
 * columns. Numbers have a sensible length (`numberText`), and in columns whose names end in `_db` those within 0.0000005
 * of 0 are 0. Text that a spreadsheet would take for a formula, and text that begins with an apostrophe
 * itself, gets an apostrophe in front; to undo it, drop one leading apostrophe from every cell that has one. Text that
 * is a plain number is no formula and stays as it is. Control characters, which RFC 4180 has no place for, and overrides
 * of direction are shown as `\u{1b}`.
 */
export const csvText = (records: readonly (readonly Cell[])[]): string =>
  records
    .map((cells) => cells.map((cell, index) => cellText(cell, records[0]?.[index])).join(','))
    .map((line) => `${line}\r\n`)
    .join('');
