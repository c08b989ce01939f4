import type { Tradeoff } from '../../analysis/tradeoff.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { preEmphasisDb } from '../../guard/modulation.js';
import { plotLines } from '../../layout/plot.js';
import { wrap } from '../../layout/wrap.js';
import type { Intent } from '../../model/intent.js';
import type { Target } from '../../model/target.js';
import { filterPhrase } from '../../model/words.js';
import { formatFrequency } from '../../units/format.js';
import { shownFilter } from '../words/protection-on-desk.js';
import { tradeoffTable } from './tradeoff-table.js';

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
    { x: 'music lost, dB', y: 'attenuation at the pilot, dB' },
    [{ mark: '=', y: asked.pilotAttenuationDb }],
    columns,
  );
};

/** What nearest gives against the best there is for the same music lost. */
const comparison = ({ frontier, nearest }: Tradeoff): string => {
  const best = frontier.findLast(({ keepLossDb }) => keepLossDb <= nearest.keepLossDb + 1e-9);
  const gives = `Nearest takes ${nearest.pilotAttenuationDb.toFixed(1)} dB out at the pilot and ${Math.max(0, nearest.keepLossDb).toFixed(2)} dB of the music`;
  return best
    ? `${gives}; for no more music lost the best steps take ${best.pilotAttenuationDb.toFixed(1)} dB.`
    : `${gives}; nothing better was found for no more music lost.`;
};

/** What it takes to reach the attenuation asked, and the tightest limit looked at that lets it. */
const reaching = (
  { asked, frontier }: Tradeoff,
  { pilotHz, preEmphasisMicroseconds }: GuardScope,
): string => {
  const most = Math.max(...preEmphasisMicroseconds);
  const isWhatItAdds = Math.abs(asked.pilotAttenuationDb - preEmphasisDb(pilotHz, most)) < 1e-9;
  const why = isWhatItAdds ? ` (what pre-emphasis of ${most} microseconds adds; --attenuation)` : '';
  const askedDb = `${asked.pilotAttenuationDb.toFixed(1)} dB are asked for at the pilot${why}`;
  if (!asked.reached) return `${askedDb}: nothing reaches that within any limit looked at.`;
  const { pilotAttenuationDb, keepLossDb } = asked.reached;
  const limit = frontier.find((point) => point.pilotAttenuationDb >= asked.pilotAttenuationDb - 1e-9);
  const within = limit ? `, and so does every limit from ${limit.keepLossAtMostDb.toFixed(2)} dB up` : '';
  return `${askedDb}: ${Math.max(0, keepLossDb).toFixed(2)} dB of the music reach it, with ${pilotAttenuationDb.toFixed(1)} dB${within}.`;
};

const unmet = ({ unmetLimitDb }: Tradeoff): readonly string[] =>
  unmetLimitDb === null
    ? []
    : [`Nothing that helps the pilot keeps the music within ${unmetLimitDb.toFixed(2)} dB.`];

const unproved = ({ frontier }: Tradeoff): readonly string[] => {
  const open = frontier.filter(({ unproved }) => (unproved?.missedAtMostDb ?? 0) > 0);
  const more = open.map(
    ({ keepLossAtMostDb, unproved }) =>
      `${unproved?.missedAtMostDb.toFixed(1)} dB within ${keepLossAtMostDb.toFixed(2)} dB`,
  );
  return more.length > 0
    ? [
        `Not all is proved to be the best; of attenuation at most so much more might be had: ${more.join(', ')}.`,
      ]
    : [];
};

/** The low cut is the same throughout, and the music lost to it is part of every point's. */
const lowCut = ({ nearest }: Tradeoff): string => {
  const placed = nearest.filters.find(({ role }) => role === 'low-cut');
  return placed ? `The low cut stays at ${shownFilter(placed)}.` : 'There is no place for the low cut.';
};

/** The marks of the plot. */
const legend = (columns: number): readonly string[] => {
  const marks = ['o  the best steps', 'N  every knob at its nearest step', '=  asked at the pilot'];
  const line = marks.join('   ');
  return line.length <= columns ? [line] : marks;
};

/** One desk's frontier, for people: what it is, a table, a plot, and where nearest lies. */
export const tradeoffLines = (
  { id, title, realisations }: Target,
  intents: readonly Intent[],
  found: Tradeoff,
  scope: GuardScope,
  columns: number,
): readonly string[] => [
  ...wrap(`${id}: ${title}`, columns),
  '',
  ...wrap(
    `The most attenuation at the pilot, ${formatFrequency(scope.pilotHz)} +-${scope.windowHz} Hz, for at most so much music lost from ${formatFrequency(scope.keepLowHz)} to ${formatFrequency(scope.keepHighHz)}; both in the worst of ${realisations.length} ways the desk may build its filters. Asked: ${intents.map(filterPhrase).join('; ')}. ${lowCut(found)}`,
    columns,
  ),
  '',
  ...tradeoffTable(found, columns),
  '',
  ...plotOf(found, columns),
  '',
  ...legend(columns),
  ...wrap(
    [reaching(found, scope), comparison(found), ...unmet(found), ...unproved(found)].join(' '),
    columns,
  ),
];
