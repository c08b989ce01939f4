import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe, RecipeMix } from '../../model/recipe.js';
import type { Link } from '../../model/rig.js';
import { choiceLines } from './choice-lines.js';
import { filterLines, type TypeLabels } from './filter-lines.js';
import { guardLines } from './guard-lines.js';

const linkWords: Readonly<Record<Link, string>> = {
  'fm-stereo': 'FM stereo',
  digital: 'digital',
  wired: 'wired',
};

/** The outputs of a mix: `3/4`, or that none was named. */
const outputsText = ({ outputs }: RecipeMix): string =>
  outputs.length === 0 ? 'no output named' : outputs.join('/');

const isDialledTwice = ({ outputs }: RecipeMix, { target }: Recipe): boolean =>
  outputs.length > 1 && target.stereo === 'legs-separate';

/** A box to tick for each time the filters are to be dialled. */
const tickBoxes = (mix: RecipeMix, recipe: Recipe): string =>
  isDialledTwice(mix, recipe)
    ? mix.outputs.map((output) => `[ ] ${output}`).join('  ')
    : `[ ] ${outputsText(mix)}`;

/** The system a mix feeds and its link, once where they are called the same: `packs-a, FM stereo`. */
const systemText = ({ system, link }: RecipeMix): string =>
  [...new Set([system, link === null ? null : linkWords[link]])].filter((word) => word !== null).join(', ');

/** Mixes of which everything but the name, the outputs and the system is the same, by first appearance. */
const alike = (
  mixes: readonly RecipeMix[],
  sameness: (mix: RecipeMix) => unknown,
): readonly (readonly RecipeMix[])[] => {
  const groups = new Map<string, RecipeMix[]>();
  for (const mix of mixes) {
    const key = JSON.stringify(sameness(mix));
    groups.set(key, [...(groups.get(key) ?? []), mix]);
  }
  return [...groups.values()];
};

const systemColumns = 24;
/** A name is given less than this beside its system only where it is shorter. */
const nameColumns = 20;

/** A line a mix: what it is dialled or found by, its name, its system; the system under the name where room is short. */
const headLines = (
  mixes: readonly RecipeMix[],
  firsts: readonly string[],
  columns: number,
): readonly string[] => {
  const first = fittingWidth(firsts, 9, 20);
  const system = fittingWidth(mixes.map(systemText), 0, systemColumns);
  const name = widthBeside([first, system], columns);
  const isRoomy =
    name >=
    fittingWidth(
      mixes.map((mix) => mix.name),
      0,
      nameColumns,
    );
  return mixes.flatMap((mix, index) => {
    const cells = [firsts[index] ?? '', mix.name];
    if (isRoomy) return columnLines([...cells, systemText(mix)], [first, name, system]);
    const widths = [first, widthBeside([first], columns)];
    return [...columnLines(cells, widths), ...columnLines(['', systemText(mix)], widths)];
  });
};

const capitalised = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

const dialBlock = (
  mixes: readonly RecipeMix[],
  recipe: Recipe,
  labels: TypeLabels,
  columns: number,
): readonly string[] => {
  const [mix] = mixes;
  if (!mix) return [];
  return [
    '-'.repeat(columns),
    ...headLines(
      mixes,
      mixes.map((each) => tickBoxes(each, recipe)),
      columns,
    ),
    ...(mixes.some((each) => isDialledTwice(each, recipe))
      ? wrap('dial both legs: each output of a pair has filters of its own', columns)
      : []),
    '',
    ...(mix.filters.length > 0
      ? filterLines(mix.filters, labels, columns)
      : ['Nothing to dial: no filter found a slot.']),
    ...(mix.treatment === 'as-asked' ? ['', ...wrap(capitalised(mix.reason), columns)] : []),
    ...(mix.guard ? ['', ...guardLines(mix.guard, mix.missing, columns), ...choiceLines(mix, columns)] : []),
    '',
  ];
};

/** What to dial, one block for all mixes that get the same. */
export const dialLines = (recipe: Recipe, labels: TypeLabels, columns: number): readonly string[] =>
  alike(
    recipe.mixes.filter(({ treatment }) => treatment !== 'leave-alone'),
    ({ treatment, filters, guard, nearest, missing }) => [treatment, filters, guard, nearest, missing],
  ).flatMap((mixes) => dialBlock(mixes, recipe, labels, columns));

/** The mixes to leave alone, under the reason. */
export const leaveAloneLines = (recipe: Recipe, columns: number): readonly string[] =>
  alike(
    recipe.mixes.filter(({ treatment }) => treatment === 'leave-alone'),
    ({ reason }) => reason,
  ).flatMap((mixes) => [
    '-'.repeat(columns),
    ...wrap(`LEAVE ALONE: ${mixes[0]?.reason ?? ''}`, columns),
    ...headLines(mixes, mixes.map(outputsText), columns),
    '',
  ]);
