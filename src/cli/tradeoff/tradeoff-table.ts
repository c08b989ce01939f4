import type { Tradeoff, TradeoffPoint } from '../../analysis/tradeoff.js';
import { columnLines } from '../../layout/columns.js';
import { hang } from '../../layout/wrap.js';
import { pointNumbers, pointSettings, settingsText, withinText } from './tradeoff-words.js';

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

const pointLines = (within: string, point: TradeoffPoint, columns: number): readonly string[] => {
  const { lost, pilot } = pointNumbers(point);
  const numbers = numbersText(within, lost, pilot);
  const { highCut, pilotCuts } = pointSettings(point);
  const [firstCut = '', ...furtherCuts] = pilotCuts;
  return columns >= leastWide
    ? [...beside(numbers, [highCut, firstCut]), ...furtherCuts.flatMap((cut) => beside('', ['', cut]))]
    : [numbers, ...hang('    ', settingsText(point), columns)];
};

/** A row for each limit, for nearest, and for the least loss that takes what is asked: loss, attenuation, steps chosen. */
export const tradeoffTable = ({ frontier, nearest, asked }: Tradeoff, columns: number): readonly string[] => [
  ...(columns >= leastWide
    ? beside(numbersText('within', 'lost', 'pilot'), ['high cut', 'pilot cut'])
    : [numbersText('within', 'lost', 'pilot')]),
  numbersText('dB', 'dB', 'dB'),
  ...frontier.flatMap((point) => pointLines(withinText(point), point, columns)),
  ...pointLines('nearest', nearest, columns),
  ...(asked.reached ? pointLines('asked', asked.reached, columns) : []),
];
