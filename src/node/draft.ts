import { lstat, rm } from 'node:fs/promises';
import { type Outcome, problem } from '../model/problem.js';
import { printable } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { fileProblem } from './file-problem.js';
import { readInput } from './read-input.js';
import { openOutput } from './write-outputs.js';

/** What a question was answered with. */
interface KeptAnswer {
  readonly id: string;
  readonly text: string;
}

/** The answers given so far to whoever makes a document by asking, kept beside the file it will be. */
export interface Draft {
  readonly format: 'bandwright-draft/1';
  /** What is being made. */
  readonly makes: string;
  /** The file or id it was started from, null where from nothing. */
  readonly from: string | null;
  readonly answers: readonly KeptAnswer[];
}

const isText = (value: unknown): value is string => typeof value === 'string';

const isDraft = (value: unknown): value is Draft => {
  const { format, makes, from, answers } = (value ?? {}) as Partial<Record<keyof Draft, unknown>>;
  return (
    format === 'bandwright-draft/1' &&
    isText(makes) &&
    (from === null || isText(from)) &&
    Array.isArray(answers) &&
    answers.every((each) => isText(each?.id) && isText(each?.text))
  );
};

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
};

/** The draft at a path, null where there is none. Problems: a file that cannot be read, or is no draft of what is made. */
export const readDraft = async (path: string, makes: string): Promise<Outcome<Draft | null>> => {
  const input = await readInput(path);
  if (!input.ok) {
    return (await lstat(path).catch(() => null)) === null ? ok(null) : input;
  }
  const draft = parsed(Buffer.from(input.value.bytes).toString('utf8'));
  if (isDraft(draft) && draft.makes === makes) return ok(draft);
  const told = isDraft(draft)
    ? `It holds answers of ${printable(draft.makes)}, not of ${makes}.`
    : 'Answers were to be kept here, but what stands here is something else.';
  const message = `${told} It was left as it is. Move it away, or name another file to make.`;
  return fail([{ ...problem('draft-unfit', '', message), source: printable(path) }]);
};

/** Keeps a draft in place of the one before: all of it, or the one before stays. */
export const keepDraft = async (path: string, draft: Draft): Promise<Outcome<string>> => {
  const pending = await openOutput(path, { inputs: [], overwrite: true });
  if (!pending.ok) return pending;
  const filled = await pending.value.fill(`${JSON.stringify(draft, null, 2)}\n`);
  return filled.ok ? pending.value.publish() : filled;
};

/** Removes a draft that is needed no more. */
export const dropDraft = async (path: string): Promise<Outcome<string>> => {
  try {
    await rm(path, { force: true });
    return ok(path);
  } catch (error) {
    return fail([fileProblem('file-unwritable', path, 'write', error)]);
  }
};
