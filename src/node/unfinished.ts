import { rmSync } from 'node:fs';

const unfinished = new Set<string>();

/** Notes a file that is not whole yet, to be removed should the program be interrupted. */
export const rememberUnfinished = (path: string): void => {
  unfinished.add(path);
};

export const forgetUnfinished = (path: string): void => {
  unfinished.delete(path);
};

/** Removes every file that is not whole yet. At once, since it is called on the way out; tells how many. */
export const removeUnfinished = (): number => {
  const count = unfinished.size;
  for (const path of unfinished) rmSync(path, { force: true });
  unfinished.clear();
  return count;
};
