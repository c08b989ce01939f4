import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe, RecipeMix } from '../../model/recipe.js';
import {
  bothLegs,
  capitalised,
  dialGroups,
  isDialledTwice,
  leaveAloneGroups,
  linkWords,
  outputsText,
  tickBoxes,
} from '../words/groups.js';
import { choiceLines } from './choice-lines.js';
import { filterLines } from './filter-lines.js';
import { guardLines } from './guard-lines.js';
import type { Page } from './page.js';
import { withVerdicts } from './with-verdicts.js';

/** The system a mix feeds and its link, once where they are called the same: `packs-a, FM stereo`. */
const systemText = ({ system, link }: RecipeMix): string =>
  [...new Set([system, link === null ? null : linkWords[link]])].filter((word) => word !== null).join(', ');

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

const dialBlock = (
  mixes: readonly [RecipeMix, ...RecipeMix[]],
  recipe: Recipe,
  { labels, columns, emphasise, plot }: Page,
): readonly string[] => {
  const [mix] = mixes;
  return [
    '-'.repeat(columns),
    ...headLines(
      mixes,
      mixes.map((each) => tickBoxes(each, recipe)),
      columns,
    ),
    ...(mixes.some((each) => isDialledTwice(each, recipe)) ? wrap(bothLegs, columns) : []),
    '',
    ...(mix.filters.length > 0
      ? filterLines(mix.filters, labels, columns)
      : ['Nothing to dial: no filter found a slot.']),
    ...(mix.treatment === 'as-asked' ? ['', ...wrap(capitalised(mix.reason), columns)] : []),
    ...(mix.guard
      ? [
          '',
          ...withVerdicts(guardLines(mix.guard, mix.missing, columns), mix.missing, emphasise),
          ...choiceLines(mix, columns),
        ]
      : []),
    ...plot(mix),
    '',
  ];
};

/** What to dial, one block for all mixes that get the same. */
export const dialLines = (recipe: Recipe, page: Page): readonly string[] =>
  dialGroups(recipe).flatMap((mixes) => dialBlock(mixes, recipe, page));

/** The mixes to leave alone, under the reason. */
export const leaveAloneLines = (recipe: Recipe, columns: number): readonly string[] =>
  leaveAloneGroups(recipe).flatMap((mixes) => [
    '-'.repeat(columns),
    ...wrap(`LEAVE ALONE: ${mixes[0].reason}`, columns),
    ...headLines(mixes, mixes.map(outputsText), columns),
    '',
  ]);
