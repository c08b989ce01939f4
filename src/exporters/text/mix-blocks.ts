import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe, RecipeMix } from '../../model/recipe.js';
import { choiceLines } from './choice-lines.js';
import { filterLines, type TypeLabels } from './filter-lines.js';
import { guardLines } from './guard-lines.js';
import { isDialledTwice, outputsText, systemText, tickBoxes } from './outputs.js';
import { pageColumns, thinRule } from './page.js';

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

const headLines = (mixes: readonly RecipeMix[], firsts: readonly string[]): readonly string[] => {
  const first = fittingWidth(firsts, 9, 20);
  const system = fittingWidth(mixes.map(systemText), 0, systemColumns);
  const widths = [first, widthBeside([first, system], pageColumns), system];
  return mixes.flatMap((mix, index) => columnLines([firsts[index] ?? '', mix.name, systemText(mix)], widths));
};

const capitalised = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

const dialBlock = (mixes: readonly RecipeMix[], recipe: Recipe, labels: TypeLabels): readonly string[] => {
  const [mix] = mixes;
  if (!mix) return [];
  return [
    thinRule,
    ...headLines(
      mixes,
      mixes.map((each) => tickBoxes(each, recipe)),
    ),
    ...(mixes.some((each) => isDialledTwice(each, recipe))
      ? ['dial both legs: each output of a pair has filters of its own']
      : []),
    '',
    ...(mix.filters.length > 0
      ? filterLines(mix.filters, labels)
      : ['Nothing to dial: no filter found a slot.']),
    ...(mix.treatment === 'as-asked' ? ['', ...wrap(capitalised(mix.reason), pageColumns)] : []),
    ...(mix.guard ? ['', ...guardLines(mix.guard, mix.missing), ...choiceLines(mix)] : []),
    '',
  ];
};

/** What to dial, one block for all mixes that get the same. */
export const dialLines = (recipe: Recipe, labels: TypeLabels): readonly string[] =>
  alike(
    recipe.mixes.filter(({ treatment }) => treatment !== 'leave-alone'),
    ({ treatment, filters, guard, nearest, missing }) => [treatment, filters, guard, nearest, missing],
  ).flatMap((mixes) => dialBlock(mixes, recipe, labels));

/** The mixes to leave alone, under the reason. */
export const leaveAloneLines = (recipe: Recipe): readonly string[] =>
  alike(
    recipe.mixes.filter(({ treatment }) => treatment === 'leave-alone'),
    ({ reason }) => reason,
  ).flatMap((mixes) => [
    thinRule,
    ...wrap(`LEAVE ALONE: ${mixes[0]?.reason ?? ''}`, pageColumns),
    ...headLines(mixes, mixes.map(outputsText)),
    '',
  ]);
