import type { Recipe } from '../model/recipe.js';
import { ok } from '../units/result.js';
import type { ExportContext, Exporter } from './exporter.js';
import { fullLines } from './text/full.js';
import { shortLines } from './text/short.js';

/** As wide as a terminal always is. */
const usualColumns = 80;
/** Below this no table can be read; above that no sentence, and a line for each filter takes no more. */
const narrowestColumns = 40;
const widestColumns = { full: 100, short: 120 };

const content = (
  recipe: Recipe,
  { target, columns = usualColumns, full = false, emphasise = (text) => text }: ExportContext,
): string => {
  const widest = full ? widestColumns.full : widestColumns.short;
  const labels = recipe.target.id === target.id ? (target.display.typeLabels ?? {}) : {};
  const page = { labels, columns: Math.min(widest, Math.max(narrowestColumns, columns)), emphasise };
  const lines = full ? fullLines(recipe, page) : shortLines(recipe, page);
  return `${lines.join('\n').trimEnd()}\n`;
};

/**
 * What a person dials, for a screen or paper: mixes that get the same told once, no line wider than the columns of the
 * context. Below 40 columns lines are 40 wide, and above 120 they are 120, of the full text 100.
 */
export const textForm: Exporter = {
  name: 'text',
  summary: 'what to dial, for people',
  fileName: 'recipe.txt',
  mediaType: 'text/plain; charset=utf-8',
  content: (recipe, context) => ok(content(recipe, context)),
};
