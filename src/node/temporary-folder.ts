import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

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
