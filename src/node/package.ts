import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const findRoot = (): string => {
  // Node.js before 20.11 has no `filename` here.
  let folder = dirname(import.meta.filename ?? fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error('bandwright is not installed whole: its package.json is missing');
    folder = parent;
  }
  return folder;
};

let root: string | undefined;

/** The folder the package is installed in, whether it runs built or from source. */
export const packageRoot = (): string => {
  root ??= findRoot();
  return root;
};

/** The version the package was installed as. */
export const packageVersion = (): string => {
  const manifest = JSON.parse(readFileSync(join(packageRoot(), 'package.json'), 'utf8')) as {
    version: string;
  };
  return manifest.version;
};
