import { wrap } from '../../layout/wrap.js';
import type { MixState } from '../../model/journal.js';
import type { WriteReport } from '../../node/desk/write-desk.js';
import { commandLine } from './copyable.js';
import { type ExitCode, exitCodes } from './exit-code.js';
import { inFlags } from './in-flags.js';
import { problemLines } from './problem-lines.js';
import { reportLines } from './report-lines.js';
import { otherSlotsLines, shortfallLines } from './shortfall.js';
import { messageColumns, pageColumns, type Terminal } from './terminal.js';
import { colouredVerdicts } from './verdict-colours.js';

const codes: Readonly<Record<WriteReport['result'], ExitCode>> = {
  done: exitCodes.done,
  'falls-short': exitCodes.fallsShort,
  'not-agreed': exitCodes.interrupted,
  interrupted: exitCodes.interrupted,
  'desk-lost': exitCodes.unreachable,
};

const stateWords: readonly (readonly [state: MixState, words: string])[] = [
  ['applied', 'written and read back'],
  ['unchanged', 'stood so already'],
  ['put-back', 'put back as found'],
  ['sent', 'sent without proof'],
  ['differs', 'not as wanted'],
  ['unknown', 'not known'],
  ['untouched', 'not written to'],
];

const resultWords: Readonly<Record<WriteReport['result'], string>> = {
  done: 'Done',
  'falls-short': 'It falls short',
  'not-agreed': 'Nothing was written',
  interrupted: 'Interrupted',
  'desk-lost': 'The desk was lost',
};

/** How it ended, in a sentence: what holds, and what does not. */
const closing = ({ result, mixes: reports }: WriteReport): string => {
  const counted = stateWords.flatMap(([state, words]) => {
    const count = reports.filter((each) => each.state === state).length;
    return count > 0 ? [{ count, words }] : [];
  });
  const mixes = `mix${reports.length === 1 ? '' : 'es'}`;
  const [first] = counted;
  const told =
    first && counted.length === 1
      ? `${reports.length} ${mixes} ${first.words}`
      : `of ${reports.length} ${mixes} ${counted.map(({ count, words }) => `${count} ${words}`).join(', ')}`;
  return `${resultWords[result]}: ${told}.`;
};

/** The states in which a mix stands as its recipe has it, as far as can be told. */
const setStates: readonly MixState[] = ['applied', 'unchanged', 'sent'];

/** Tells how a push or a restore went, on both outputs, and with which code to end. */
export const finish = (report: WriteReport, json: boolean, terminal: Terminal): ExitCode => {
  const { purpose, result, mixes, journal } = report;
  const problems = inFlags(report.problems);
  if (json) {
    terminal.out(`${JSON.stringify({ ...report, problems }, null, 2)}\n`);
  } else if (result !== 'not-agreed') {
    const lines = reportLines(mixes, purpose, pageColumns(terminal));
    for (const line of colouredVerdicts(lines, terminal)) terminal.out(`${line}\n`);
  }
  for (const line of problemLines(problems, terminal)) terminal.err(line);
  for (const line of wrap(closing(report), messageColumns(terminal))) terminal.err(line);
  if (result !== 'not-agreed') {
    const short = mixes.flatMap(({ name, state, guard, missing }) =>
      setStates.includes(state) && guard !== undefined && missing !== undefined
        ? [{ name, guard, missing }]
        : [],
    );
    for (const line of shortfallLines(short, messageColumns(terminal))) terminal.err(line);
  }
  if (purpose === 'push' && result === 'done')
    for (const line of otherSlotsLines(messageColumns(terminal))) terminal.err(line);
  if (journal !== null) {
    terminal.err('To put back what was found:');
    terminal.err(commandLine('bandwright', 'restore', journal));
  }
  return codes[result];
};
