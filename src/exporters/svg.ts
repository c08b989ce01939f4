import { gallery, headingColumns } from '../drawing/gallery.js';
import { markup } from '../drawing/markup.js';
import { responseFigure } from '../drawing/response-figure.js';
import { wrap } from '../layout/wrap.js';
import type { Outcome } from '../model/problem.js';
import type { Recipe, RecipeMix } from '../model/recipe.js';
import { ok } from '../units/result.js';
import type { ExportContext, Exporter } from './exporter.js';
import { mixResponse } from './mix-response.js';
import { dialGroups, outputsText } from './words/groups.js';

const headingOf = (mixes: readonly RecipeMix[]): readonly string[] =>
  wrap(mixes.map((mix) => `${outputsText(mix)} ${mix.name}`).join('; '), headingColumns);

const picturesOf = (recipe: Recipe, context: ExportContext): string => {
  const groups = dialGroups(recipe).filter(([mix]) => mix.filters.length > 0);
  const told = {
    title: recipe.rig.title,
    description: `Responses on ${recipe.target.title}, a picture for each setting.`,
  };
  const heading = [
    ...wrap(recipe.rig.title, headingColumns),
    ...wrap(`${recipe.target.title} (${recipe.target.id})`, headingColumns),
    ...(groups.length === 0 ? ['Nothing to draw: no mix has a filter.'] : []),
  ];
  const items = groups.map((mixes) => {
    const view = mixResponse(mixes, recipe, context);
    return view.ok
      ? { heading: headingOf(mixes), figure: responseFigure(view.value) }
      : { heading: [...headingOf(mixes), ...wrap(view.error, headingColumns)], figure: null };
  });
  return `${markup(gallery(told, heading, items))}\n`;
};

/** What the filters of a recipe do over frequency, as one picture: SVG 1.1 that stands alone, a part for each setting. */
export const svg: Exporter = {
  name: 'svg',
  summary: 'what the filters do over frequency, as a picture',
  fileName: 'recipe.svg',
  mediaType: 'image/svg+xml',
  content: (recipe, context): Outcome<string> => ok(picturesOf(recipe, context)),
};
