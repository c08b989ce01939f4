import { mkdir, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { rememberFolder } from './unfinished.js';

const isThere = async (path: string): Promise<boolean> => {
  try {
    await stat(path);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return false;
    throw error;
  }
};

/**
 * Makes a folder and those above it that are missing, and notes them as made. Throws as `mkdir` does.
 *
 * `mkdir` with `recursive` will not do: Node 20 never returns from it below /proc.
 */
export const makeFolders = async (folder: string): Promise<void> => {
  const missing: string[] = [];
  for (let at = folder; !(await isThere(at)); at = dirname(at)) missing.unshift(at);
  for (const each of missing) {
    await mkdir(each);
    rememberFolder(each);
  }
};
