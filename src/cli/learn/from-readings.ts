import { wrap } from '../../layout/wrap.js';
import type { LearnOptions } from '../../learning/learn-grid.js';
import type { LastDigit } from '../../learning/reading.js';
import type { Knob } from '../../model/knob.js';
import { problem } from '../../model/problem.js';
import { onInterrupt } from '../../node/interrupts.js';
import { printable } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import type { Builder, GuidedQuestion } from '../guided/builder.js';
import { converse } from '../guided/converse.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { problemLines } from '../words/problem-lines.js';
import { nextWords, type ReadOff, readOff, sampleShown, withMore } from '../words/readings.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, pageColumns, type Terminal } from '../words/terminal.js';
import { leftWords, readingsLines, soFarCommand } from './readings-lines.js';

export interface ReadingsOptions {
  readonly readings?: string;
  readonly digits?: number;
  readonly steps?: number;
  readonly lastDigit?: LastDigit;
  readonly json?: boolean;
}

const knownFrom = ({ steps, lastDigit }: ReadingsOptions): LearnOptions => ({ count: steps, lastDigit });

/** Tells what readings tell. Falling short: a grid that is not settled. */
const tell = (read: ReadOff, typed: string, options: ReadingsOptions, terminal: Terminal): ExitCode => {
  const { readings, learned } = read;
  if (options.json) {
    const told = { knob: readings.knob, readings: readings.readings, ...learned };
    terminal.out(`${JSON.stringify(told, null, 2)}\n`);
  } else {
    terminal.out(`${readingsLines(read, typed, pageColumns(terminal)).join('\n')}\n`);
  }
  return learned.isSettled ? exitCodes.done : exitCodes.fallsShort;
};

/** What was typed so far, and nothing to ask once that settles the grid or somebody has had enough. */
interface Asking {
  readonly typed: string;
  readonly isEnough: boolean;
}

const howTo =
  'Type the value as the screen shows it, with its zeros: 20.00k. Where the knob comes to a stop sooner, say after how many clicks: 7 clicks up 600 top. Enter ends with what is known, < takes the last answer back.';

const noSteps =
  'A knob without clicks, where any value can be entered, has no steps to learn. In a target its grid is { "kind": "continuous", "from": 20, "to": 20000 }, with its own ends.';

const enough = 'enough';

const asking = (knob: Knob, options: ReadingsOptions): Builder<Asking> => {
  const read = (typed: string) => readOff(typed, knob, knownFrom(options), options.digits);
  return {
    start: { typed: '', isEnough: false },
    next: ({ typed, isEnough }): GuidedQuestion<Asking> | null => {
      const before = read(typed);
      const next = before.ok ? before.value.learned.next : null;
      if (isEnough || !before.ok || !next) return null;
      const { candidates } = before.value.learned;
      const [best] = candidates;
      return {
        id: 'reading',
        flag: '--readings',
        words: nextWords(next, knob),
        notes: best ? [leftWords(before.value.learned, knob)] : [],
        ...(best ? { usual: enough, usualWords: 'enough, tell what is known' } : {}),
        example: sampleShown[knob],
        take: (text) => {
          if (/^(\?|help)$/i.test(text)) return fail(howTo);
          if (/\bno\b.*\b(clicks|steps)\b/i.test(text)) return fail(noSteps);
          if (best && text === enough) return ok({ state: { typed, isEnough: true } });
          const more = withMore(typed, before.value, text);
          const after = read(more);
          return after.ok ? ok({ state: { typed: more, isEnough: false } }) : after;
        },
      };
    },
  };
};

/** Asks for the reading that tells most, until the grid is settled. */
const ask = async (knob: Knob, options: ReadingsOptions, terminal: Terminal): Promise<ExitCode> => {
  const say = (text: string): void => {
    for (const line of wrap(text, messageColumns(terminal))) terminal.err(line);
  };
  say('Type what the screen shows. ? tells how, < or Escape goes back, Ctrl-C ends.');
  const { terminalAsker } = await import('../guided/terminal-asker.js');
  const asker = terminalAsker(terminal);
  const release = onInterrupt(asker.end);
  const builder = asking(knob, options);
  let typed = '';
  try {
    const ended = await converse(
      builder,
      {},
      {
        asker,
        before: [],
        keep: async (answers) => {
          // Nothing is written to disk: the command line that goes on from here is enough to keep.
          typed = answers.reduce((state, { text }) => {
            const taken = builder.next(state)?.take(text);
            return taken?.ok ? taken.value.state : state;
          }, builder.start).typed;
          return ok(null);
        },
        check: () => [],
        tell: (each) => {
          for (const line of problemLines([each], terminal)) terminal.err(line);
        },
        say,
        hear: (lines) => {
          for (const line of lines) terminal.err(`  ${printable(line)}`);
        },
      },
    );
    if (!ended.ok) return stopOn(ended.error, terminal, options.json === true);
    if (ended.value.state === null) {
      terminal.err('');
      if (typed !== '') terminal.err(`Ended. To go on from here:\n${soFarCommand(knob, typed)}`);
      return exitCodes.interrupted;
    }
    typed = ended.value.state.typed;
  } finally {
    release();
    asker.close();
  }
  const read = readOff(typed, knob, knownFrom(options), options.digits);
  return read.ok
    ? tell(read.value, typed, options, terminal)
    : stopOn([problem('usage', '--readings', read.error)], terminal, options.json === true);
};

/** The work of `bandwright learn KNOB`. */
export const runFromReadings = async (
  knob: Knob,
  options: ReadingsOptions,
  terminal: Terminal,
): Promise<ExitCode> => {
  const stop = (message: string) =>
    stopOn([problem('usage', '--readings', message)], terminal, options.json === true);
  const { readings: typed } = options;
  if (typed === undefined) {
    return terminal.canAsk
      ? ask(knob, options, terminal)
      : stop(
          'Nobody can be asked here, for standard input or error is no terminal. Add what the screen showed, as in --readings "18.67k 19.32k 20.00k stop".',
        );
  }
  if (typed.trim() === '')
    return stop('Nothing stands there; write what the screen showed, as in 18.67k 19.32k.');
  const read = readOff(typed, knob, knownFrom(options), options.digits);
  return read.ok ? tell(read.value, typed, options, terminal) : stop(read.error);
};
