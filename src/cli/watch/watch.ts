import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import { type ToldEvent, type WatchReport, watch } from '../../node/desk/watch.js';
import { onInterrupt } from '../../node/interrupts.js';
import { deskOptions, stopSequence } from '../words/conversation.js';
import type { DeskFlags } from '../words/desk-options.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { inFlags } from '../words/in-flags.js';
import { outputMatters } from '../words/lost-output.js';
import { readRecipeOnDesk } from '../words/read-recipe.js';
import { otherSlotsLines } from '../words/shortfall.js';
import { messageColumns, pageColumns, type Terminal } from '../words/terminal.js';
import { colouredVerdicts } from '../words/verdict-colours.js';
import { closingText, startLines, stoodLines, timeText, watchLines } from './watch-lines.js';

export interface WatchFlags extends DeskFlags {
  readonly target?: string;
  readonly only?: readonly string[];
  readonly every: number;
  readonly for?: number;
  readonly bell?: boolean;
  readonly quantiser: readonly string[];
  readonly json?: boolean;
}

const codes: Readonly<Record<WatchReport['result'], ExitCode>> = {
  done: exitCodes.done,
  'falls-short': exitCodes.fallsShort,
  'desk-lost': exitCodes.unreachable,
  interrupted: exitCodes.interrupted,
};

/** What is worth a bell: that something is amiss, and not that it is well again. */
const isAmiss = (told: ToldEvent): boolean =>
  told.event === 'silent' || told.event === 'found' || told.event === 'changed' || told.event === 'unread';

/** Tells what happens while it happens: lines, or JSON a line, and on a terminal one line of how things are. */
const telling = (flags: WatchFlags, terminal: Terminal) => {
  const line = (data: unknown): void => terminal.out(`${JSON.stringify(data)}\n`);
  const status = (message: string | null): void => {
    // Elsewhere than on a terminal it would be a line each.
    if (terminal.errIsTerminal) terminal.progress(message);
  };
  const until = flags.for === undefined ? 'until Ctrl-C' : `for ${timeText(flags.for * 60_000)}`;
  let lastRead = '';
  return {
    line,
    status,
    event: (told: ToldEvent): void => {
      status(null);
      if (told.event === 'started') {
        for (const text of startLines(told, flags.rate, until, messageColumns(terminal))) terminal.err(text);
      }
      if (flags.json) line(told);
      else {
        const lines = watchLines(told, pageColumns(terminal));
        for (const text of colouredVerdicts(lines, terminal)) terminal.out(`${text}\n`);
      }
      if (flags.bell && isAmiss(told)) terminal.ring();
      status(lastRead);
    },
    round: (round: number, at: string): void => {
      lastRead = `${new Date(at).toTimeString().slice(0, 8)}  read whole, round ${round}`;
      status(lastRead);
    },
  };
};

/** The work of `bandwright watch`: it goes on until it is interrupted, or for as long as it is told. */
export const runWatch = async (path: string, flags: WatchFlags, terminal: Terminal): Promise<ExitCode> => {
  const json = flags.json === true;
  const tell = telling(flags, terminal);
  const stop = ({ error }: { readonly error: readonly Problem[] }): ExitCode => {
    if (json) tell.line({ problems: inFlags(error) });
    return stopSequence(error, terminal, false);
  };
  const read = await readRecipeOnDesk(path, flags);
  if (!read.ok) return stop(read);
  const ending = new AbortController();
  const release = onInterrupt(() => ending.abort());
  outputMatters();
  const interruption = { signal: ending.signal, hardSignal: ending.signal, interrupt: () => ending.abort() };
  try {
    const done = await watch({
      ...deskOptions(flags, interruption, terminal),
      ...read.value,
      ...(flags.only ? { only: flags.only } : {}),
      everyMs: flags.every * 1000,
      ...(flags.for === undefined ? {} : { forMs: flags.for * 60_000 }),
      onEvent: tell.event,
      onRound: tell.round,
    });
    tell.status(null);
    if (!done.ok) return stop(done);
    const report = done.value;
    if (json) tell.line({ event: 'summary', ...report });
    else for (const text of stoodLines(report, pageColumns(terminal))) terminal.out(`${text}\n`);
    for (const text of wrap(closingText(report), messageColumns(terminal))) terminal.err(text);
    if (report.result === 'done')
      for (const text of otherSlotsLines(messageColumns(terminal))) terminal.err(text);
    return codes[report.result];
  } finally {
    release();
  }
};
