import { stat } from 'node:fs/promises';

/** Whether a path leads to a folder that is there. */
export const isFolder = async (path: string): Promise<boolean> => {
  const found = await stat(path).catch(() => null);
  return found?.isDirectory() ?? false;
};
