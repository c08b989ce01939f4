import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from './package-root.js';

/** The version the package was installed as. */
export const packageVersion = (): string => {
  const manifest = JSON.parse(readFileSync(join(packageRoot(), 'package.json'), 'utf8')) as {
    version: string;
  };
  return manifest.version;
};
