import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import { displayWidth } from '../../layout/display-width.js';
import { wrap } from '../../layout/wrap.js';
import type { Recipe, RecipeMix } from '../../model/recipe.js';
import { printable } from '../../units/quote.js';
import { guardWords } from '../words/figures.js';
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
import { firstCaution, undoneCount } from '../words/notes.js';
import { resultText, shortNames } from '../words/result.js';
import { undoneLines } from './note-lines.js';
import type { Page } from './page.js';
import { shortFilterLines } from './short-filters.js';
import { shortVerdictLines } from './short-verdict.js';
import { withVerdicts } from './with-verdicts.js';

const counted = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** What was found not to work on the real desk: nobody should dial on without knowing. */
const knownBad = ({ target: { evidence } }: Recipe): readonly string[] =>
  (['grid', 'response', 'push'] as const).filter((part) => evidence[part] === 'known-bad');

const headLines = (recipe: Recipe, columns: number): readonly string[] => [
  ...wrap(recipe.rig.title, columns),
  ...wrap(`${recipe.target.title} (${recipe.target.id})`, columns),
  ...wrap(firstCaution, columns),
  ...knownBad(recipe).flatMap((part) => wrap(`Known to be bad on the real desk: ${part}.`, columns)),
  ...(recipe.mixes.some((mix) => isDialledTwice(mix, recipe))
    ? wrap(`${capitalised(bothLegs)}.`, columns)
    : []),
];

/** As wide as boxes and outputs get before they wrap. */
const mostBoxes = 20;
const gap = '   ';

/** The mixes of a group, as many in a line as stand there side by side, names below names on the whole page. */
const mixLines = (
  mixes: readonly RecipeMix[],
  boxColumns: number,
  recipe: Recipe,
  columns: number,
): readonly string[] => {
  const name = fittingWidth(
    mixes.map((mix) => printable(mix.name)),
    0,
    columns,
  );
  const width = boxColumns + 2 + name;
  const perLine = Math.floor((columns + gap.length) / (width + gap.length));
  const cells = mixes.map((mix) => [tickBoxes(mix, recipe), mix.name]);
  const shown = cells.map((each) => columnLines(each, [boxColumns, name]));
  if (perLine < 2 || shown.some((each) => each.length > 1))
    return cells.flatMap((each) => columnLines(each, [boxColumns, widthBeside([boxColumns], columns)]));
  return Array.from({ length: Math.ceil(shown.length / perLine) }, (_, row) =>
    shown
      .slice(row * perLine, (row + 1) * perLine)
      .map(([line = '']) => line + ' '.repeat(Math.max(0, width - displayWidth(line))))
      .join(gap)
      .trimEnd(),
  );
};

/** Why a mix is left alone, in a word where its link says it. */
const leaveAloneLines = (recipe: Recipe, columns: number): readonly string[] =>
  leaveAloneGroups(recipe).flatMap((mixes) => {
    const [{ link, reason }] = mixes;
    const why = link === null || link === 'fm-stereo' ? reason : `${linkWords[link]}, no pilot`;
    const names = mixes.map((mix) => `${outputsText(mix)} ${mix.name}`).join('; ');
    // An output stands beside the name it belongs to.
    const begun = mixes.map((mix) => `${outputsText(mix)} ${mix.name.split(' ')[0]}`);
    const whole = begun.filter((each) => displayWidth(printable(each)) < columns - 4);
    return wrap(`LEAVE ALONE (${why}): ${names}`, columns, '  ', whole);
  });

const clicksNote = 'In brackets: clicks from the nearer stop, up from the bottom, down from the top.';

/** How many mixes stand how, which fall short, and what else there is to know: last, where the eye is. */
const summaryLines = (
  recipe: Recipe,
  clicksLeftOut: boolean,
  { columns, emphasise }: Page,
): readonly string[] => {
  const missing = recipe.mixes.flatMap((mix) => mix.missing);
  const names = shortNames(recipe);
  const { assumptions } = recipe;
  const undone = undoneCount(recipe);
  const more = [
    ...(assumptions.length > 0 ? [counted(assumptions.length, 'assumption')] : []),
    ...(clicksLeftOut ? ['clicks'] : []),
    ...(recipe.mixes.some(({ filters }) => filters.length > 0) ? ['how far off each knob lies'] : []),
    ...(recipe.mixes.some(({ nearest }) => nearest !== null) ? ['other choices'] : []),
    'cautions',
  ];
  return [
    '='.repeat(columns),
    ...withVerdicts(wrap(`${resultText(recipe)}.`, columns, '  '), missing, emphasise),
    ...(names.length === 0
      ? []
      : wrap(`${guardWords['falls-short']}: ${names.join('; ')}.`, columns, '  ').map((line, index) =>
          index === 0
            ? line.replace(guardWords['falls-short'], (word) => emphasise(word, 'falls-short'))
            : line,
        )),
    ...(undone > 0 ? wrap(`${counted(undone, 'problem')}, told above.`, columns, '  ') : []),
    ...wrap(`Told by recipe --full: ${more.join(', ')}.`, columns, '  '),
  ];
};

/**
 * What to dial, a line a filter, and a line for what comes of it; then what could not be done as asked, and how all
 * stands.
 */
export const shortLines = (recipe: Recipe, page: Page): readonly string[] => {
  const { columns } = page;
  const groups = dialGroups(recipe);
  const told = shortFilterLines(
    groups.map(([{ filters }]) => filters),
    page,
  );
  const boxes = groups.flat().map((mix) => tickBoxes(mix, recipe));
  const boxColumns = fittingWidth(boxes, 0, mostBoxes);
  const leaveAlone = leaveAloneLines(recipe, columns);
  const undone = undoneLines(recipe, columns);
  return [
    ...headLines(recipe, columns),
    ...(told.some(({ clicks }) => clicks === 'told') ? wrap(clicksNote, columns) : []),
    '',
    ...groups.flatMap((mixes, index) => [
      ...mixLines(mixes, boxColumns, recipe, columns),
      ...(mixes[0].filters.length > 0
        ? (told[index]?.lines ?? [])
        : ['Nothing to dial: no filter found a slot.']),
      ...shortVerdictLines(mixes[0], page),
      ...page.plot(mixes[0]),
      '',
    ]),
    ...page.legend,
    ...(leaveAlone.length > 0 ? [...leaveAlone, ''] : []),
    ...undone,
    ...summaryLines(
      recipe,
      told.some(({ clicks }) => clicks === 'left-out'),
      page,
    ),
  ];
};
