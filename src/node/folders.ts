import { mkdir, mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
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
 * Makes a folder and those above it that are missing, and notes them as made. Gives those it made, the outer ones
 * first. The mode is that of `mkdir`; folders that are there keep theirs. Throws as `mkdir` does.
 *
 * `mkdir` with `recursive` will not do: Node 20 never returns from it below /proc.
 */
export const makeFolders = async (folder: string, mode = 0o777): Promise<readonly string[]> => {
  const missing: string[] = [];
  for (let at = folder; !(await isThere(at)); at = dirname(at)) missing.unshift(at);
  const made: string[] = [];
  for (const each of missing) {
    try {
      await mkdir(each, { mode });
    } catch (error) {
      // Somebody else made it meanwhile.
      if ((error as NodeJS.ErrnoException).code === 'EEXIST' && (await isThere(each))) continue;
      throw error;
    }
    rememberFolder(each);
    made.push(each);
  }
  return made;
};

/** Whether a path leads to a folder that is there. */
export const isFolder = async (path: string): Promise<boolean> => {
  const found = await stat(path).catch(() => null);
  return found?.isDirectory() ?? false;
};

/** Does some work with a folder that is gone again afterwards. */
export const withTemporaryFolder = async <Result>(
  work: (folder: string) => Promise<Result>,
): Promise<Result> => {
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};
