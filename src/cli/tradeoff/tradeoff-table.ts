import type { Tradeoff, TradeoffPoint } from '../../analysis/tradeoff.js';
import { columnLines } from '../../layout/columns.js';
import { hang } from '../../layout/wrap.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import { shownFilter } from '../words/protection-on-desk.js';

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

const settingWidths = [23, 30];
const numbersWidth = 23;

/** In a narrower window the settings stand below their numbers. */
const leastWide = numbersWidth + settingWidths.reduce((sum, width) => sum + width + 2, -2);

/** Three numbers, as wide as the settings leave. */
const numbersText = (within: string, lost: string, pilot: string): string =>
  `${within.padStart(7)}  ${lost.padStart(5)}  ${pilot.padStart(5)}`;

/** Numbers, and the settings beside them; the settings alone in the lines below. */
const beside = (numbers: string, settings: readonly [string, string]): readonly string[] =>
  columnLines(settings, settingWidths).map((line, index) =>
    `${(index === 0 ? numbers : '').padEnd(numbersWidth)}${line}`.trimEnd(),
  );

const pointLines = (
  within: string,
  { keepLossDb, pilotAttenuationDb, filters }: TradeoffPoint,
  columns: number,
): readonly string[] => {
  const numbers = numbersText(within, hundredths(Math.max(0, keepLossDb)), tenths(pilotAttenuationDb));
  const highCut = shownOf(filters, 'high-cut').join('; ');
  const cuts = shownOf(filters, 'pilot-cut');
  const [firstCut = '', ...furtherCuts] = cuts;
  return columns >= leastWide
    ? [...beside(numbers, [highCut, firstCut]), ...furtherCuts.flatMap((cut) => beside('', ['', cut]))]
    : [numbers, ...hang('    ', `high cut ${highCut}; pilot cut ${cuts.join(' and ')}`, columns)];
};

/** A row for each limit, and one for what nearest gives: music lost, attenuation, and the steps chosen. */
export const tradeoffTable = ({ frontier, nearest }: Tradeoff, columns: number): readonly string[] => [
  ...(columns >= leastWide
    ? beside(numbersText('within', 'lost', 'pilot'), ['high cut', 'pilot cut'])
    : [numbersText('within', 'lost', 'pilot')]),
  numbersText('dB', 'dB', 'dB'),
  ...frontier.flatMap((point) => pointLines(hundredths(point.keepLossAtMostDb), point, columns)),
  ...pointLines('nearest', nearest, columns),
];
