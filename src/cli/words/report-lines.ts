import { hang } from '../../layout/wrap.js';
import type { MixReport, ValueReport } from '../../live/write/report.js';
import type { VerifiedMix } from '../../live/write/verify.js';
import type { MixState } from '../../model/journal.js';
import { printable } from '../../units/quote.js';

const pushWords: Readonly<Record<MixState, string>> = {
  applied: 'SET',
  unchanged: 'STOOD SO',
  untouched: 'NOT WRITTEN',
  'put-back': 'PUT BACK',
  differs: 'DIFFERS',
  unknown: 'NOT KNOWN',
  sent: 'SENT ONLY',
};

const restoreWords: Readonly<Record<MixState, string>> = { ...pushWords, applied: 'RESTORED' };

const verifyWords: Readonly<Record<VerifiedMix['state'], string>> = {
  holds: 'HOLDS',
  differs: 'DIFFERS',
  unread: 'NOT KNOWN',
};

const valueLine = (
  { output, slot, parameter, set, read, confirmed }: ValueReport,
  unanswered: string,
): string => {
  const unread = confirmed ? 'it was read back so, and not since' : unanswered;
  const stands = read === null ? unread : `it reads ${read}`;
  return `output ${output}, slot ${slot}, ${parameter}: ${set ?? 'not known'} is wanted, ${stands}`;
};

interface Told {
  readonly word: string;
  readonly name: string;
  readonly outputs: readonly number[];
  readonly remark: string;
  readonly details: readonly string[];
}

const lines = (mixes: readonly Told[], columns: number): readonly string[] =>
  mixes.flatMap(({ word, name, outputs, remark, details }) => [
    ...hang(
      `${word.padEnd(12)}${outputs.join('/').padEnd(8)}`,
      `${printable(name)}${remark === '' ? '' : `: ${remark}`}`,
      columns,
    ),
    ...details.flatMap((detail) => hang('    ', printable(detail), columns)),
  ]);

const values = (count: number): string => `${count} value${count === 1 ? '' : 's'}`;

const remarkOf = ({ state, values: all }: MixReport): string => {
  switch (state) {
    case 'applied':
      return `${values(all.length)} read back as set`;
    case 'unchanged':
      return 'nothing was written';
    case 'put-back':
      return 'it reads as it was found';
    case 'sent':
      return `${values(all.length)} sent, none can be read back`;
    default:
      return '';
  }
};

/** How each mix was left by a push or a restore; values only where one does not stand as it should. */
export const reportLines = (
  reports: readonly MixReport[],
  purpose: 'push' | 'restore',
  columns: number,
): readonly string[] =>
  lines(
    reports.map((report) => ({
      word: (purpose === 'push' ? pushWords : restoreWords)[report.state],
      name: report.name,
      outputs: report.outputs,
      remark: remarkOf(report),
      details: [
        ...report.notes,
        ...report.values
          .filter(({ state }) => state === 'differs' || state === 'unread')
          .map((value) => valueLine(value, 'it may have been changed, and was not read since')),
      ],
    })),
    columns,
  );

/** How each mix stands now, beside what a recipe set. */
export const verifyLines = (mixes: readonly VerifiedMix[], columns: number): readonly string[] =>
  lines(
    mixes.map(({ name, outputs, state, values: all }) => ({
      word: verifyWords[state],
      name,
      outputs,
      remark: state === 'holds' ? `${values(all.length)} read, all as set` : '',
      details: all
        .filter(({ state }) => state !== 'held')
        .map((value) => valueLine(value, 'no fit answer came')),
    })),
    columns,
  );
