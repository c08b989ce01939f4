import { rmdirSync, rmSync } from 'node:fs';

const files = new Set<string>();
const folders: string[] = [];

/** Notes a file that is not whole yet, to be removed should the program end before it is. */
export const rememberUnfinished = (path: string): void => {
  files.add(path);
};

export const forgetUnfinished = (path: string): void => {
  files.delete(path);
};

/** Notes a folder made for files to come; the outer ones before those inside. */
export const rememberFolder = (path: string): void => {
  folders.push(path);
};

/** Removes the folders made for files that never came. One that holds something stays. */
export const removeEmptyFolders = (): void => {
  for (const folder of folders.toReversed()) {
    try {
      rmdirSync(folder);
    } catch {
      // It holds something, or has gone: either way it is none of ours any more.
    }
  }
};

/** Removes every file that is not whole yet. At once, since it is called on the way out; tells how many. */
export const removeUnfinished = (): number => {
  const count = files.size;
  for (const path of files) rmSync(path, { force: true });
  if (count > 0) removeEmptyFolders();
  files.clear();
  return count;
};
