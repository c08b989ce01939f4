import { plotLegend, responsePlotLines } from '../drawing/response-plot.js';
import { wrap } from '../layout/wrap.js';
import type { Recipe, RecipeMix } from '../model/recipe.js';
import { ok } from '../units/result.js';
import type { ExportContext, Exporter } from './exporter.js';
import { mixResponse } from './mix-response.js';
import { fullLines } from './text/full.js';
import { shortLines } from './text/short.js';
import { dialGroups } from './words/groups.js';

/** As wide as a terminal always is. */
const usualColumns = 80;
/** Below this no table can be read; above that no sentence, and a line for each filter takes no more. */
const narrowestColumns = 40;
const widestColumns = { full: 100, short: 120 };

const content = (recipe: Recipe, context: ExportContext): string => {
  const { target, columns = usualColumns, full = false, emphasise = (text) => text } = context;
  const widest = full ? widestColumns.full : widestColumns.short;
  const labels = recipe.target.id === target.id ? (target.display.typeLabels ?? {}) : {};
  const width = Math.min(widest, Math.max(narrowestColumns, columns));
  const views = new Map(
    (context.plot ? dialGroups(recipe) : []).flatMap((mixes) =>
      mixes[0].filters.length > 0 ? [[mixes[0], mixResponse(mixes, recipe, context)] as const] : [],
    ),
  );
  const plot = (mix: RecipeMix): readonly string[] => {
    const view = views.get(mix);
    if (!view) return [];
    return ['', ...(view.ok ? responsePlotLines(view.value, width) : wrap(view.error, width))];
  };
  const drawn = [...views.values()].flatMap((view) => (view.ok ? [view.value] : []));
  const legend = drawn.length === 0 ? [] : [...plotLegend(drawn, width), ''];
  const page = { labels, columns: width, emphasise, plot, legend };
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
