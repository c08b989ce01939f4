import type { Tradeoff, TradeoffPoint } from '../../analysis/tradeoff.js';
import { displayText } from '../../exporters/text/knob-text.js';
import { columnLines } from '../../layout/columns.js';
import { knobNames } from '../../model/knob.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';

const hundredths = (valueDb: number): string => (Number(valueDb.toFixed(2)) + 0).toFixed(2);
const tenths = (valueDb: number): string => (Number(valueDb.toFixed(1)) + 0).toFixed(1);

/** A filter as the desk shows it: `14.99 kHz, 24 dB/oct`. */
export const shownFilter = ({ steps }: PlacedFilter): string =>
  knobNames
    .flatMap((knob) => {
      const position = steps[knob];
      return position ? [displayText(knob, position)] : [];
    })
    .join(', ');

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

/** Three numbers, and the settings beside them; the settings alone in the lines below. */
const rowLines = (
  numbers: readonly [string, string, string],
  settings: readonly string[],
): readonly string[] => {
  const [within, lost, pilot] = numbers;
  const beside = `${within.padStart(7)}  ${lost.padStart(5)}  ${pilot.padStart(5)}  `;
  return columnLines(settings, [23, 30]).map(
    (line, index) => `${index === 0 ? beside : ' '.repeat(beside.length)}${line}`,
  );
};

const pointLines = (
  within: string,
  { keepLossDb, pilotAttenuationDb, filters }: TradeoffPoint,
): readonly string[] => {
  const [firstCut = '', ...furtherCuts] = shownOf(filters, 'pilot-cut');
  return [
    ...rowLines(
      [within, hundredths(Math.max(0, keepLossDb)), tenths(pilotAttenuationDb)],
      [shownOf(filters, 'high-cut').join('; '), firstCut],
    ),
    ...furtherCuts.flatMap((cut) => rowLines(['', '', ''], ['', cut])),
  ];
};

/** A row for each limit, and one for what nearest gives: loss, attenuation, and the steps chosen. */
export const tradeoffTable = ({ frontier, nearest }: Tradeoff): readonly string[] => [
  ...rowLines(['within', 'lost', 'pilot'], ['high cut', 'pilot cut']),
  ...rowLines(['dB', 'dB', 'dB'], ['', '']).map((line) => line.trimEnd()),
  ...frontier.flatMap((point) => pointLines(hundredths(point.keepLossAtMostDb), point)),
  ...pointLines('nearest', nearest),
];
