import { wrap } from '../../layout/wrap.js';
import type { Problem } from '../../model/problem.js';
import type { DeskOptions, DeskProgress } from '../../node/desk/open-desk.js';
import { type InterruptCause, onInterrupt } from '../../node/interrupts.js';
import type { DeskFlags } from './desk-options.js';
import { type ExitCode, exitCodes } from './exit-code.js';
import { outputMatters } from './lost-output.js';
import { stopOn } from './run-command.js';
import { messageColumns, type Terminal } from './terminal.js';

const told = 'Interrupted: coming to a safe end. Ctrl-C again to stop where it is.';

/** What Ctrl-C asks for: once, to come to a safe end; twice, to stop where it is. */
export interface Interruption {
  readonly signal: AbortSignal;
  readonly hardSignal: AbortSignal;
  /** As if Ctrl-C had been pressed. */
  interrupt(): void;
}

/** Does some work on a desk, during which neither Ctrl-C nor an output that is lost ends anything by itself. */
export const withInterrupts = async <Result>(
  terminal: Terminal,
  work: (interruption: Interruption) => Promise<Result>,
): Promise<Result> => {
  const [first, second] = [new AbortController(), new AbortController()];
  const interrupt = (cause: InterruptCause): void => {
    if (first.signal.aborted) {
      // Nobody who is gone can have meant to leave it half-way.
      if (cause === 'asked') second.abort();
      return;
    }
    terminal.progress(null);
    for (const line of wrap(told, messageColumns(terminal))) terminal.err(line);
    first.abort();
  };
  const release = onInterrupt(interrupt);
  outputMatters();
  try {
    return await work({
      signal: first.signal,
      hardSignal: second.signal,
      interrupt: () => interrupt('asked'),
    });
  } finally {
    release();
  }
};

const progressWords = (progress: DeskProgress, writing: string): string => {
  switch (progress.stage) {
    case 'reading':
      return `Reading what stands on ${progress.destination} ...`;
    case 'waiting':
      return `No answer from ${progress.destination} yet, giving up in ${Math.ceil(progress.leftMs / 1000)} s ...`;
    case 'writing':
      return `${writing} ${progress.index}/${progress.of}  ${progress.mix}`;
    case 'fitting':
      return `Fitting the rig on ${progress.target}, to tell what would do better ...`;
    case 'learning':
      return `Learning ${progress.grid} in slot ${progress.slot} ...`;
    case 'putting-back':
      return `Putting output ${progress.output} back as it was found ...`;
  }
};

/** What the library is to know of a desk, from what was typed. `writing` is what writing is called meanwhile. */
export const deskOptions = (
  { to, transport, rate, timeout, retries, allowBroadcast }: DeskFlags,
  { signal, hardSignal }: Interruption,
  terminal: Terminal,
  writing = 'Writing',
): DeskOptions => ({
  ...(to === undefined ? {} : { to }),
  ...(transport === undefined ? {} : { transport }),
  allowBroadcast: allowBroadcast === true,
  ratePerSecond: rate,
  retry: { timeoutMs: timeout, retries },
  signal,
  hardSignal,
  onProgress: (progress) => {
    // A countdown is for who looks on.
    if (progress?.stage !== 'waiting' || terminal.errIsTerminal)
      terminal.progress(progress && progressWords(progress, writing));
  },
});

/** Tells what stopped a sequence of the library, and with which code to end. */
export const stopSequence = (problems: readonly Problem[], terminal: Terminal, json: boolean): ExitCode => {
  const code = stopOn(problems, terminal, json);
  return problems[0]?.code === 'interrupted' ? exitCodes.interrupted : code;
};
