import { open } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import envPaths from 'env-paths';
import type { Problem } from '../../model/problem.js';
import { fileProblem } from '../file-problem.js';
import { makeFolders } from '../folders.js';

/** The environment variable that names the folder for journals. */
const journalsVariable = 'BANDWRIGHT_JOURNALS';

/**
 * Where journals are kept: the folder asked for, else the one BANDWRIGHT_JOURNALS names, else the platform's own
 * place for what a program notes of its work (on Linux `$XDG_STATE_HOME`, see the XDG Base Directory
 * Specification). Absolute; it need not be there.
 */
export const journalFolder = (asked?: string): string =>
  // A variable that is set to nothing names nothing.
  resolve(asked ?? (process.env[journalsVariable] || envPaths('bandwright', { suffix: '' }).log));

/** What platforms and file systems answer that do not flush folders, or not for everyone. */
const cannotFlush: readonly string[] = ['EISDIR', 'EPERM', 'EACCES', 'EINVAL', 'ENOTSUP', 'EBADF'];

/** Makes the names in a folder safe from a crash, where the platform lets a folder be opened. */
export const flushFolder = async (folder: string): Promise<void> => {
  try {
    const handle = await open(folder, 'r');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch (error) {
    if (!cannotFlush.includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
  }
};

/** Makes the folder of journals, for its owner only: they tell of a show and of a network. Throws as `mkdir` does. */
export const makeJournalFolder = async (folder: string): Promise<void> => {
  for (const made of await makeFolders(folder, 0o700)) await flushFolder(dirname(made));
};

const advice: Readonly<Record<string, string>> = {
  ENOSPC: 'Make room there',
  EDQUOT: 'Make room there',
  EACCES: 'Let yourself write there',
  EPERM: 'Let yourself write there',
};

/**
 * Why the system does not let a journal be kept, and what to do; anything else is a bug of ours and is thrown on.
 * `action` is what was tried, as in "write the journal".
 */
export const journalProblem = (path: string, action: string, error: unknown): Problem => {
  const told = fileProblem('journal-unwritable', path, action, error);
  const first = advice[(error as NodeJS.ErrnoException).code ?? ''] ?? 'Mend that';
  return {
    ...told,
    message: `${told.message} ${first}, or name another folder with journalFolder or ${journalsVariable}.`,
  };
};
