import type { AnyDocument } from '../../documents/documents.js';
import { writeJson } from '../../documents/write-json.js';
import { writeXml } from '../../documents/write-xml.js';
import { wrap } from '../../layout/wrap.js';
import { type Outcome, type Problem, problem } from '../../model/problem.js';
import { dropDraft, keepDraft, readDraft } from '../../node/draft.js';
import { onInterrupt } from '../../node/interrupts.js';
import { openOutput } from '../../node/write-outputs.js';
import { printable } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { commandLine } from '../words/copyable.js';
import { type ExitCode, exitCodes } from '../words/exit-code.js';
import { writeAndTell } from '../words/outputs.js';
import { problemLines } from '../words/problem-lines.js';
import { stopOn } from '../words/run-command.js';
import { messageColumns, type Terminal } from '../words/terminal.js';
import { answerUnasked, type Builder, type FlagAnswers, type GivenAnswer, unusedFlags } from './builder.js';
import { converse } from './converse.js';

/** What every command that makes a document by asking is told. */
export interface GuideOptions {
  readonly from?: string;
  readonly force?: boolean;
  readonly json?: boolean;
}

/** A document to be made by asking. */
export interface Making<State> {
  /** The command's words, as in `rig new`: drafts are told apart by them. */
  readonly command: string;
  readonly builder: Builder<State>;
  readonly flags: FlagAnswers;
  /** The file to make; `-` is standard output. */
  readonly file: string;
  /** Files being read. */
  readonly inputs: readonly string[];
  readonly options: GuideOptions;
  /** The document, read back by its reader as it will be written; and what to know of it. */
  finish(state: State): Outcome<{ readonly document: AnyDocument; readonly toKnow: readonly string[] }>;
  /** Commands to run next, word by word. */
  readonly next: readonly (readonly string[])[];
}

/** A document as its file has it: as JSON, or as XML where the file is called so. */
export const contentFor = (file: string, document: AnyDocument): string =>
  /\.xml$/i.test(file) ? writeXml(document) : writeJson(document);

const usage = (path: string, message: string): Problem => problem('usage', path, message);

/** Opened and closed again, so that a path that cannot be written is told before the first question. */
const tryOutput = async ({ file, inputs, options }: Making<unknown>): Promise<Outcome<null>> => {
  if (file === '-') return ok(null);
  const pending = await openOutput(file, { inputs, overwrite: options.force === true });
  if (!pending.ok) return pending;
  await pending.value.discard();
  return ok(null);
};

/** What the command line alone leads to: null where somebody has to be asked. */
const fromFlags = <State>(
  { builder, flags }: Making<State>,
  canAsk: boolean,
): Outcome<{ readonly state: State; readonly lines: readonly string[] } | null> => {
  const isToldAnything = Object.keys(flags).length > 0;
  if (canAsk && !isToldAnything) return ok(null);
  const { state, taken, missing, refused, heard: lines } = answerUnasked(builder, flags);
  if (missing.length > 0 && canAsk) return ok(null);
  if (missing.length > 0) {
    const problems = missing.map(({ flag, words, example }) =>
      usage(
        flag,
        `${words} Nobody can be asked here, for standard input or error is no terminal, and nothing was written. Add it, as in ${flag} '${example}'.`,
      ),
    );
    return fail(problems);
  }
  if (refused) return fail([usage(refused.flag, refused.message)]);
  const [unused] = unusedFlags(flags, taken);
  if (unused !== undefined) {
    const told = 'Nothing asks for it here, given the other answers, so it would be lost. Leave it out.';
    return fail([usage(unused, told)]);
  }
  return ok({ state, lines });
};

/** Writes what was made, and tells what to do with it. */
const deliver = async <State>(
  making: Making<State>,
  state: State,
  terminal: Terminal,
): Promise<Outcome<null>> => {
  const { file, inputs, options, next } = making;
  const made = making.finish(state);
  if (!made.ok) return made;
  const { document, toKnow } = made.value;
  const content = contentFor(file, document);
  if (file !== '-') {
    const pending = await openOutput(file, { inputs, overwrite: options.force === true });
    if (!pending.ok) return pending;
    const written = await writeAndTell([{ pending: pending.value, content }], terminal);
    if (!written.ok) return written;
  }
  if (file === '-' || options.json) terminal.out(writeJson(document));
  for (const line of toKnow.flatMap((each) => wrap(each, messageColumns(terminal), '  '))) terminal.err(line);
  if (file !== '-') {
    terminal.err('It was read back and is good. Next:');
    for (const words of next) terminal.err(commandLine(...words));
  }
  return ok(null);
};

/** Beside the file that is made; beside nothing, where it goes to standard output. */
const draftOf = (file: string, command: string): string =>
  file === '-' ? `${command.replace(' ', '-')}.draft` : `${file}.draft`;

/** Answers of an earlier time; those of a document that was started from another one would not fit. */
const earlierAnswers = async (
  path: string,
  command: string,
  from: string | null,
): Promise<Outcome<readonly GivenAnswer[]>> => {
  const kept = await readDraft(path, command);
  if (!kept.ok || kept.value === null) return kept.ok ? ok([]) : kept;
  const { answers, from: other } = kept.value;
  if (other === from) return ok(answers);
  const started = other === null ? 'from nothing' : `with --from ${printable(other)}`;
  const told = `Answers are kept here of one that was started ${started}. Go on with that, or move the file away.`;
  return fail([{ ...usage('--from', told), source: printable(path) }]);
};

/** Asks, keeping every answer, until there is something to write or somebody ends it. */
const askAndDeliver = async <State>(making: Making<State>, terminal: Terminal): Promise<ExitCode> => {
  const { file, command, options, flags, builder } = making;
  const stop = (problems: readonly Problem[]) => stopOn(problems, terminal, options.json === true);
  const draftPath = draftOf(file, command);
  const from = options.from ?? null;
  const before = await earlierAnswers(draftPath, command, from);
  if (!before.ok) return stop(before.error);
  const say = (text: string): void => {
    for (const line of wrap(text, messageColumns(terminal), '', [draftPath])) terminal.err(line);
  };
  say(
    `Enter takes what is offered, < or Escape goes back, Ctrl-C ends. Each answer is kept in ${printable(draftPath)}.`,
  );
  const { terminalAsker } = await import('./terminal-asker.js');
  const asker = terminalAsker(terminal);
  const release = onInterrupt(asker.end);
  try {
    const ended = await converse(builder, flags, {
      asker,
      before: before.value,
      keep: (answers) =>
        keepDraft(draftPath, { format: 'bandwright-draft/1', makes: command, from, answers }),
      check: (state) => {
        const made = making.finish(state);
        return made.ok ? [] : made.error;
      },
      tell: (problem) => {
        for (const line of problemLines([problem], terminal)) terminal.err(line);
      },
      say,
      hear: (lines) => {
        for (const line of lines) terminal.err(`  ${printable(line)}`);
      },
    });
    if (!ended.ok) return stop(ended.error);
    if (ended.value.state === null) {
      terminal.err('');
      say(
        ended.value.isKept
          ? `Ended. What was answered is kept in ${printable(draftPath)}; the same command goes on from there.`
          : 'Ended. Nothing was answered, and nothing was written.',
      );
      return exitCodes.interrupted;
    }
    for (const flag of unusedFlags(flags, ended.value.answers)) {
      say(`${flag}: it was answered otherwise, or nothing asked for it; what it says is not in the file.`);
    }
    const delivered = await deliver(making, ended.value.state, terminal);
    if (!delivered.ok) {
      say(`What was answered is kept in ${printable(draftPath)}.`);
      return stop(delivered.error);
    }
    const dropped = await dropDraft(draftPath);
    return dropped.ok ? exitCodes.done : stop(dropped.error);
  } finally {
    release();
    asker.close();
  }
};

/** Makes a document from what the command line says, or by asking for what it does not say. */
export const makeByAsking = async <State>(making: Making<State>, terminal: Terminal): Promise<ExitCode> => {
  const stop = (problems: readonly Problem[]) => stopOn(problems, terminal, making.options.json === true);
  const open = await tryOutput(making);
  if (!open.ok) return stop(open.error);
  // What comes in by standard input cannot be typed at too.
  const told = fromFlags(making, terminal.canAsk && !making.inputs.includes('-'));
  if (!told.ok) return stop(told.error);
  if (told.value === null) return askAndDeliver(making, terminal);
  const kept = await readDraft(draftOf(making.file, making.command), making.command);
  if (kept.ok && kept.value && kept.value.answers.length > 0) {
    const path = printable(draftOf(making.file, making.command));
    terminal.err(`The options say it all, so nothing was asked; ${path} stays as it is.`);
  }
  for (const line of told.value.lines) terminal.err(`  ${printable(line)}`);
  const delivered = await deliver(making, told.value.state, terminal);
  return delivered.ok ? exitCodes.done : stop(delivered.error);
};
