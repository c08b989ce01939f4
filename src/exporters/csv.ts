import type { Recipe } from '../model/recipe.js';
import { ok } from '../units/result.js';
import { type CsvRow, csvColumns } from './csv/columns.js';
import { csvText } from './csv/rfc4180.js';
import type { Exporter } from './exporter.js';

export { csvColumns } from './csv/columns.js';

/** A row for each filter of each mix, and one for a mix without filters. */
const rowsOf = (recipe: Recipe): readonly CsvRow[] =>
  recipe.mixes.flatMap((mix): readonly CsvRow[] => {
    const filters = mix.filters.length === 0 ? [null] : mix.filters;
    return filters.map((placed) => ({ recipe, mix, placed }));
  });

/**
 * The recipe as CSV (RFC 4180) with a header row: one row a filter, one row for a mix left alone. Columns are
 * told by `csvColumns`; what is not known or does not apply is an empty cell.
 *
 * Spreadsheets take text that begins with = + - @ for a formula. Such text, and text that begins with an
 * apostrophe itself, gets an apostrophe in front (OWASP, "CSV Injection"); to undo it, drop one leading
 * apostrophe from every cell that has one. Numbers are never touched. Control characters, which RFC 4180 has
 * no place for, and overrides of direction are shown as `\u{1b}`.
 */
export const csv: Exporter = {
  name: 'csv',
  summary: 'one row a placed, for spreadsheets',
  fileName: 'recipe.csv',
  mediaType: 'text/csv; charset=utf-8; header=present',
  content: (recipe) => {
    const header = csvColumns.map(({ name }) => name);
    const rows = rowsOf(recipe).map((row) => csvColumns.map(({ cell }) => cell(row)));
    return ok(csvText([header, ...rows]));
  },
};
