import type { PilotReach } from '../../analysis/reach/pilot-reach.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { tableLines } from '../../layout/columns.js';
import { displayWidth } from '../../layout/display-width.js';
import { hang, wrap } from '../../layout/wrap.js';
import {
  narrowWarning,
  nearCells,
  nearRows,
  nextText,
  noCutText,
  settingCells,
  takenRows,
  takenText,
  twoSettingsText,
} from './reach-words.js';

/** A target, what it was called on the command line, and how near it comes. */
export interface CheckedTarget {
  readonly name: string;
  readonly id: string;
  readonly title: string;
  readonly reach: PilotReach;
}

/** The frequencies next to the pilot: side by side, or where that is too wide each in words. */
const nearLines = (reach: PilotReach, columns: number): readonly string[] => {
  const rows = nearRows(reach).map(([word, near]) => [word, ...nearCells(near)]);
  const table = tableLines(
    rows.map(([word, ...cells]) => [`  ${word}`, ...cells, ...Array(4 - cells.length).fill('')]),
    [1, 2, 3, 4],
  );
  return Math.max(...table.map(displayWidth)) <= columns
    ? table
    : rows.flatMap(([word = '', ...told]) => hang(`  ${word}  `, told.join(', '), columns));
};

const indented = ([first = '', ...cells]: readonly string[]): readonly string[] => [`  ${first}`, ...cells];

/** One target's nearness to the pilot, for people. */
export const reachLines = (
  { id, title, reach }: CheckedTarget,
  scope: GuardScope,
  columns: number,
): readonly string[] => {
  const head = [...wrap(`${id}: ${title}`, columns), ''];
  if (!reach.nearest) return [...head, ...wrap(noCutText(reach), columns)];
  const told = narrowWarning(reach);
  return [
    ...head,
    ...wrap(nextText(reach), columns),
    ...nearLines(reach, columns),
    '',
    ...wrap(twoSettingsText(reach, scope), columns),
    ...tableLines(
      [
        ['  best', ...settingCells(reach.best)],
        ['  narrowest', ...settingCells(reach.narrowest)],
      ],
      [],
      columns,
    ),
    '',
    ...wrap(takenText(reach), columns),
    ...tableLines(
      [['built as', 'best dB', 'narrowest dB'], ...takenRows(reach)].map(indented),
      [1, 2],
      columns,
    ),
    ...(told ? ['', ...wrap(told, columns)] : []),
  ];
};
