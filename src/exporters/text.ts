import { columnLines, widthBeside } from '../layout/columns.js';
import { wrap } from '../layout/wrap.js';
import type { Recipe, RecipeMix } from '../model/recipe.js';
import type { Target } from '../model/target.js';
import { ok } from '../units/result.js';
import type { Exporter } from './exporter.js';
import { missingText } from './text/guard-lines.js';
import { dialLines, leaveAloneLines } from './text/mix-blocks.js';
import { cautionLines, firstCaution, noteLines } from './text/notes.js';

const mixCount = (count: number): string => `${count} ${count === 1 ? 'mix' : 'mixes'}`;

const isLeftAlone = ({ treatment }: RecipeMix): boolean => treatment === 'leave-alone';
const fallsShort = ({ guard }: RecipeMix): boolean => guard?.verdict === 'falls-short';

/** How many mixes there are to dial, and how they stand. */
const resultText = ({ mixes }: Recipe): string => {
  const left = mixes.filter(isLeftAlone).length;
  const short = mixes.filter(fallsShort).length;
  const met = mixes.filter(({ guard }) => guard?.verdict === 'met').length;
  const verdicts = [
    ...(met > 0 ? [`${met} GUARD MET`] : []),
    ...(short > 0 ? [`${short} FALLS SHORT`] : []),
  ].join(', ');
  const missing = [...new Set(mixes.flatMap((mix) => mix.missing.map(missingText)))].map((text) => {
    const without = mixes.filter((mix) => mix.missing.some((each) => missingText(each) === text)).length;
    return without === mixes.length - left ? text : `${text} on ${without}`;
  });
  return [
    `${mixCount(mixes.length - left)} to dial${verdicts === '' ? '' : `: ${verdicts}`}`,
    ...missing,
    ...(left > 0 ? [`${left} to leave alone`] : []),
  ].join('; ');
};

const fitWords: Readonly<Record<Recipe['fit'], string>> = {
  nearest: 'nearest: each knob at its own nearest step',
  match: 'match: the response closest to the one asked for',
  protect: 'protect: the pilot first, the music second',
};

const evidenceText = ({ target: { evidence } }: Recipe): string =>
  `grid ${evidence.grid}, response ${evidence.response}, push ${evidence.push}`;

/** Which mixes fall short; nothing where all do, or none. */
const shortFacts = ({ mixes }: Recipe): readonly (readonly string[])[] => {
  const short = mixes.filter(fallsShort);
  const guarded = mixes.filter(({ guard }) => guard !== null);
  return short.length === 0 || short.length === guarded.length
    ? []
    : [['short', short.map(({ name }) => name).join('; ')]];
};

const headLines = (recipe: Recipe, columns: number): readonly string[] => {
  const thickRule = '='.repeat(columns);
  const widths = [6, widthBeside([6], columns)];
  const facts = [
    ['desk', `${recipe.target.title} (${recipe.target.id})`],
    ['tried', `on the real desk: ${evidenceText(recipe)}`],
    ['fit', fitWords[recipe.fit]],
    ['result', resultText(recipe)],
    ...shortFacts(recipe),
  ];
  return [
    thickRule,
    ...wrap(recipe.rig.title, columns),
    thickRule,
    ...facts.flatMap((fact) => columnLines(fact, widths)),
    '',
    ...wrap(firstCaution, columns),
    ...wrap('Clicks count from the nearer stop: up from the bottom, down from the top.', columns),
    '',
  ];
};

/** As wide as a terminal always is. */
const usualColumns = 80;
/** Below this no table can be read, above it no sentence. */
const narrowestColumns = 40;
const widestColumns = 100;

const page = (recipe: Recipe, target: Target, wanted = usualColumns): string => {
  const columns = Math.min(widestColumns, Math.max(narrowestColumns, wanted));
  const labels = recipe.target.id === target.id ? (target.display.typeLabels ?? {}) : {};
  const lines = [
    ...headLines(recipe, columns),
    ...dialLines(recipe, labels, columns),
    ...leaveAloneLines(recipe, columns),
    ...noteLines(recipe, columns),
    ...cautionLines(columns),
  ];
  return `${lines.join('\n').trimEnd()}\n`;
};

/**
 * What a person dials, for a screen or paper: no colour, mixes that get the same told once, no line wider than the
 * columns of the context. Below 40 columns lines are 40 wide, and above 100 they are 100.
 */
export const textForm: Exporter = {
  name: 'text',
  summary: 'what to dial, for people',
  fileName: 'recipe.txt',
  mediaType: 'text/plain; charset=utf-8',
  content: (recipe, { target, columns }) => ok(page(recipe, target, columns)),
};
