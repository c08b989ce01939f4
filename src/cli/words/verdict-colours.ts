import type { ExportContext } from '../../exporters/exporter.js';
import type { Emphasise } from '../../layout/emphasis.js';
import { type Terminal, wideColumns } from './terminal.js';

/** Verdicts on standard output in colour, where it is a terminal that may have any. */
export const verdictColours =
  ({ outColours }: Pick<Terminal, 'outColours'>): Emphasise =>
  (text, verdict) =>
    verdict === 'met' ? outColours.green(text) : outColours.red(text);

/** What a form for people needs to know of the window it is shown in. */
export const shownOn = (terminal: Terminal): Pick<ExportContext, 'columns' | 'emphasise'> => ({
  columns: wideColumns(terminal),
  emphasise: verdictColours(terminal),
});

const tones: Readonly<Record<string, 'green' | 'red' | 'yellow'>> = {
  'GUARD MET': 'green',
  'FALLS SHORT': 'red',
  'DOES NOT FIT': 'red',
  'PILOT SAFE': 'green',
  'AT RISK': 'red',
  SET: 'green',
  'STOOD SO': 'green',
  RESTORED: 'green',
  HOLDS: 'green',
  DIFFERS: 'red',
  'NOT KNOWN': 'yellow',
  'NOT WRITTEN': 'yellow',
  'PUT BACK': 'yellow',
  'SENT ONLY': 'yellow',
  SILENT: 'red',
  ANSWERS: 'green',
};

/** A verdict in a column of its own: first in a line or behind a name or a time, before two blanks or the end. */
const inColumn = new RegExp(
  `(?<=^|^\\S.*  |^\\S+ )(?:${Object.keys(tones).join('|')})(?=  |$)|^NOT WRITTEN(?= )`,
);

/** Lines of a report in which verdicts have a column of their own, with these in colour. */
export const colouredVerdicts = (
  lines: readonly string[],
  { outColours }: Pick<Terminal, 'outColours'>,
): readonly string[] =>
  lines.map((line) => line.replace(inColumn, (word) => outColours[tones[word] ?? 'reset'](word)));
