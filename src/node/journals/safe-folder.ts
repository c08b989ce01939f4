import { open } from 'node:fs/promises';
import { dirname } from 'node:path';
import { makeFolders } from '../make-folders.js';

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
