import { type FileHandle, open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { readJournal } from '../../documents/read.js';
import { writeJson } from '../../documents/write-json.js';
import type { JournalKeeper } from '../../live/write/journal.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, problem } from '../../model/problem.js';
import { printable } from '../../units/quote.js';
import { fail, ok } from '../../units/result.js';
import { forgetUnfinished, rememberUnfinished } from '../unfinished.js';
import { flushFolder, journalProblem, makeJournalFolder } from './journal-folder.js';
import { sealed } from './kept-journal.js';

/** A journal's file: there from the beginning, empty until something is stored. */
export interface JournalFile extends JournalKeeper {
  /** Removes the file where nothing was ever stored; a journal that was stored stays. */
  discard(): Promise<void>;
}

export interface JournalFacts {
  /** ISO 8601, UTC. */
  readonly startedAt: string;
  readonly targetId: string;
  readonly purpose: Journal['purpose'];
}

/** A name that sorts by time and that every file system takes: `2026-11-25T12-30-00Z-push-cut-section`. */
const stemOf = ({ startedAt, targetId, purpose }: JournalFacts): string =>
  `${startedAt.replace(/\.\d+/, '').replaceAll(':', '-')}-${purpose}-${targetId}`;

/** Opens the first name that is free, never one that is taken. Throws as `open` does. */
const openFree = async (folder: string, stem: string): Promise<string> => {
  for (let count = 1; ; count++) {
    const path = join(folder, `${stem}${count === 1 ? '' : `-${count}`}.json`);
    try {
      const handle = await open(path, 'wx', 0o600);
      rememberUnfinished(path);
      await handle.close();
      return path;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
};

const fill = async (handle: FileHandle, text: string): Promise<void> => {
  try {
    await handle.writeFile(text);
    await handle.sync();
  } finally {
    await handle.close();
  }
};

/** Puts a text in the place of what a file holds, so that a crash leaves one or the other, whole. */
const replace = async (path: string, text: string): Promise<void> => {
  const temporary = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  await rm(temporary, { force: true });
  const handle = await open(temporary, 'wx', 0o600);
  rememberUnfinished(temporary);
  try {
    await fill(handle, text);
    await rename(temporary, path);
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  } finally {
    forgetUnfinished(temporary);
  }
  await flushFolder(dirname(path));
};

/** The text of a journal, once it has been seen that it can be read again: one that can't would put nothing back. */
const readableText = async (journal: Journal, path: string): Promise<Outcome<string>> => {
  const text = writeJson(sealed(journal));
  const read = readJournal(text, { source: printable(path) });
  if (read.ok) return ok(text);
  const [first] = read.error;
  const message = `What was found cannot be kept so that it could be put back, so it was not kept: ${first?.path}: ${first?.message} Compare the target's osc with what the desk answers.`;
  return fail([{ ...problem('journal-unfit', '', message), source: printable(path) }]);
};

/**
 * Takes a free name for a journal in a folder, which is made where it is missing, so that a folder that cannot be
 * written is found out before anything is sent. Problems: `journal-unwritable`; from `store` also `journal-unfit`.
 */
export const openJournalFile = async (folder: string, facts: JournalFacts): Promise<Outcome<JournalFile>> => {
  let path: string;
  try {
    await makeJournalFolder(folder);
    path = await openFree(folder, stemOf(facts));
  } catch (error) {
    return fail([journalProblem(folder, 'write journals to', error)]);
  }

  let stored = false;
  const store = async (journal: Journal): Promise<Outcome<void>> => {
    const text = await readableText(journal, path);
    if (!text.ok) return text;
    try {
      await replace(path, text.value);
      forgetUnfinished(path);
      stored = true;
      return ok(undefined);
    } catch (error) {
      const told = journalProblem(path, 'write the journal', error);
      const kept = stored ? ' What was stored there before is still whole.' : '';
      return fail([{ ...told, message: `${told.message}${kept}` }]);
    }
  };
  let last: Promise<unknown> = Promise.resolve();
  /** One after the other: the last one asked for is the one that stays. */
  const inTurn = <Value>(work: () => Promise<Value>): Promise<Value> => {
    const next = last.then(work);
    last = next.catch(() => undefined);
    return next;
  };
  return ok({
    place: path,
    store: (journal) => inTurn(() => store(journal)),
    discard: () =>
      inTurn(async () => {
        if (stored) return;
        forgetUnfinished(path);
        // An empty file that cannot be removed does no harm, and must not hide how the work before it ended.
        await rm(path, { force: true }).catch(() => undefined);
      }),
  });
};
