import type { ExportContext, Exporter } from '../../src/exporters/exporter.js';
import { textForm } from '../../src/exporters/text.js';
import type { Recipe, RecipeMix } from '../../src/model/recipe.js';
import type { Target } from '../../src/model/target.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

export const contentOf = async (
  exporter: Exporter,
  of: Recipe = recipe,
  on: Target = target,
  context: Omit<ExportContext, 'target'> = {},
): Promise<string | Uint8Array> => {
  const outcome = exporter.content(of, { target: on, ...context });
  if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join('\n'));
  return outcome.value;
};

export const textOf = async (
  exporter: Exporter,
  of: Recipe = recipe,
  on: Target = target,
  context: Omit<ExportContext, 'target'> = {},
): Promise<string> => {
  const content = await contentOf(exporter, of, on, context);
  if (typeof content !== 'string') throw new Error('bytes instead of text');
  return content;
};

const wide = (columns: number | undefined) => (columns === undefined ? {} : { columns });

/** All there is to tell people. */
export const fullTextOf = (of?: Recipe, on?: Target, columns?: number): Promise<string> =>
  textOf(textForm, of, on, { full: true, ...wide(columns) });

/** What people are told unless they ask for all. */
export const shortTextOf = (of?: Recipe, on?: Target, columns?: number): Promise<string> =>
  textOf(textForm, of, on, wide(columns));

export const bytesOf = async (
  exporter: Exporter,
  of: Recipe = recipe,
  on: Target = target,
): Promise<Uint8Array> => {
  const content = await contentOf(exporter, of, on);
  if (typeof content === 'string') throw new Error('text instead of bytes');
  return content;
};

/** The fixture with its first mix changed, and no other. */
export const withFirstMix = (changes: Partial<RecipeMix>): Recipe => ({
  ...recipe,
  mixes: recipe.mixes.slice(0, 1).map((mix) => ({ ...mix, ...changes })),
});

/** What a terminal would obey, or a reader would be misled by: a colour, a line of its own, reversed text. */
export const hostile = '\u001b[31mred\u0007\r\nnew\u0085\u009b2J\u202ereversed\u2028\u2066';

/** The fixture with something hostile wherever text from outside can stand. */
export const hostileRecipe: Recipe = {
  ...recipe,
  rig: { title: hostile },
  target: { ...recipe.target, title: hostile },
  mixes: recipe.mixes.map((mix) => ({
    ...mix,
    name: `${mix.name}${hostile}`,
    system: hostile,
    reason: hostile,
    filters: mix.filters.map((placed) => ({
      ...placed,
      role: hostile,
      slot: hostile,
      steps: { ...placed.steps, frequency: { ...placed.steps.frequency, display: hostile } as never },
    })),
  })),
  problems: [{ code: 'x', path: hostile, message: hostile, source: hostile }],
};
