import type { FrontierPoint, Tradeoff, TradeoffPoint } from '../../analysis/tradeoff.js';
import type { GuardScope } from '../../guard/guard-scope.js';
import { preEmphasisDb } from '../../guard/modulation.js';
import type { Intent } from '../../model/intent.js';
import type { PlacedFilter } from '../../model/recipe.js';
import type { Target } from '../../model/target.js';
import { filterPhrase, typeWords } from '../../model/words.js';
import { formatFrequency } from '../../units/format.js';
import { shownFilter } from '../words/protection-on-desk.js';

/** What is along the axes of a plot. */
export const axisWords = { x: 'music lost, dB', y: 'attenuation at the pilot, dB' } as const;

/** What the marks of a plot mean. */
export const markWords = {
  best: 'the best steps',
  nearest: 'every knob at its nearest step',
  asked: 'asked at the pilot',
} as const;

const hundredths = (valueDb: number): string => (Number(valueDb.toFixed(2)) + 0).toFixed(2);
const tenths = (valueDb: number): string => (Number(valueDb.toFixed(1)) + 0).toFixed(1);

/** The filters of a role; with their type in words where that is not the one asked. */
const shownOf = (filters: readonly PlacedFilter[], asked: string): readonly string[] => {
  const shown = filters
    .filter(({ role }) => role.startsWith(asked))
    .map(
      (placed) =>
        `${placed.type === placed.asked.type ? '' : `${typeWords[placed.type]} `}${shownFilter(placed)}`,
    );
  return shown.length > 0 ? shown : ['none'];
};

/** What a limit is called. */
export const withinText = ({ keepLossAtMostDb }: FrontierPoint): string => hundredths(keepLossAtMostDb);

/** What a setting costs, and what it takes. */
export const pointNumbers = ({
  keepLossDb,
  pilotAttenuationDb,
}: TradeoffPoint): { readonly lost: string; readonly pilot: string } => ({
  lost: hundredths(Math.max(0, keepLossDb)),
  pilot: tenths(pilotAttenuationDb),
});

/** The filters that differ from setting to setting, as the desk shows them. */
export const pointSettings = ({
  filters,
}: TradeoffPoint): { readonly highCut: string; readonly pilotCuts: readonly string[] } => ({
  highCut: shownOf(filters, 'high-cut').join('; '),
  pilotCuts: shownOf(filters, 'pilot-cut'),
});

/** The same in words. */
export const settingsText = (point: TradeoffPoint): string => {
  const { highCut, pilotCuts } = pointSettings(point);
  return `high cut: ${highCut}; pilot cut: ${pilotCuts.join(' and ')}`;
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
export const reaching = (
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
  const within = limit
    ? `; the tightest limit in the table that lets it is ${limit.keepLossAtMostDb.toFixed(2)} dB`
    : '';
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

/** What the figures are of. */
export const tradeoffHead = (
  { realisations }: Target,
  intents: readonly Intent[],
  found: Tradeoff,
  scope: GuardScope,
): string =>
  `The most attenuation at the pilot, ${formatFrequency(scope.pilotHz)} +-${scope.windowHz} Hz, for at most so much music lost from ${formatFrequency(scope.keepLowHz)} to ${formatFrequency(scope.keepHighHz)}; both in the worst of ${realisations.length} ways the desk may build its filters. Asked: ${intents.map(filterPhrase).join('; ')}. ${lowCut(found)}`;

/** What the figures come to: what was asked, what nearest gives, and what is left open. */
export const tradeoffNotes = (found: Tradeoff, scope: GuardScope): readonly string[] => [
  reaching(found, scope),
  comparison(found),
  ...unmet(found),
  ...unproved(found),
];
