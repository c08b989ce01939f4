import type { Tradeoff } from '../../analysis/tradeoff.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { plotLines } from '../../layout/plot.js';
import { wrap } from '../../layout/wrap.js';
import type { Intent } from '../../model/intent.js';
import type { Target } from '../../model/target.js';
import { tradeoffTable } from './tradeoff-table.js';
import { axisWords, markWords, tradeoffHead, tradeoffNotes } from './tradeoff-words.js';

const plotOf = ({ frontier, nearest, asked }: Tradeoff, columns: number): readonly string[] => {
  const place = ({ keepLossDb, pilotAttenuationDb }: Tradeoff['nearest']) => ({
    x: Math.max(0, keepLossDb),
    y: pilotAttenuationDb,
  });
  return plotLines(
    [
      { mark: 'o', points: frontier.map(place), stepped: true },
      { mark: 'N', points: [place(nearest)] },
    ],
    axisWords,
    [{ mark: '=', y: asked.pilotAttenuationDb }],
    columns,
  );
};

/** The marks of the plot. */
const legend = (columns: number): readonly string[] => {
  const marks = [`o  ${markWords.best}`, `N  ${markWords.nearest}`, `=  ${markWords.asked}`];
  const line = marks.join('   ');
  return line.length <= columns ? [line] : marks;
};

/** One desk's frontier, for people: what it is, a table, a plot, and where nearest lies. */
export const tradeoffLines = (
  target: Target,
  intents: readonly Intent[],
  found: Tradeoff,
  scope: GuardScope,
  columns: number,
): readonly string[] => [
  ...wrap(`${target.id}: ${target.title}`, columns),
  '',
  ...wrap(tradeoffHead(target, intents, found, scope), columns),
  '',
  ...tradeoffTable(found, columns),
  '',
  ...plotOf(found, columns),
  '',
  ...legend(columns),
  ...wrap(tradeoffNotes(found, scope).join(' '), columns),
];
