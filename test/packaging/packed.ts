import { mkdir, mkdtemp, readFile, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { projectRoot, type Run, runProgram } from '../end-to-end/run.js';

/** The package as it would be published, and unpacked with no node_modules beside it or above. */
export interface Packed {
  /** A folder for whatever a test makes, with the package in `package`. */
  readonly folder: string;
  /** Where the package is unpacked. */
  readonly root: string;
  readonly tarball: string;
  /** Every file in it, by its path, in order. */
  readonly paths: readonly string[];
}

/** What a run printed. Throws what it complained of where it did not end well. */
export const succeeded = ({ exitCode, stdout, stderr }: Run): string => {
  if (exitCode !== 0) throw new Error(`ended with ${exitCode}: ${stderr}${stdout}`);
  return stdout.toString();
};

/** Packs what has been built; it is taken away when the file of tests ends. */
export const pack = async (): Promise<Packed> => {
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  afterAll(() => rm(folder, { recursive: true, force: true }));
  const env = {
    npm_config_cache: join(folder, 'cache'),
    npm_config_offline: 'true',
    npm_config_loglevel: 'error',
  };
  const args = ['pack', '--ignore-scripts', '--json', '--pack-destination', folder];
  const told = succeeded(await runProgram('npm', args, { cwd: projectRoot, env }));
  const [packed] = JSON.parse(told) as readonly {
    readonly filename: string;
    readonly files: readonly { readonly path: string }[];
  }[];
  if (!packed) throw new Error('nothing was packed');
  const tarball = join(folder, packed.filename);
  succeeded(await runProgram('tar', ['-xzf', tarball, '-C', folder]));
  return {
    folder,
    root: join(folder, 'package'),
    tarball,
    paths: packed.files.map(({ path }) => path).sort(),
  };
};

/** What a package says of itself. */
export interface Manifest {
  readonly bin: Readonly<Record<string, string>>;
  readonly exports: Readonly<Record<string, string | { readonly types: string; readonly default: string }>>;
}

export const manifestOf = async ({ root }: Packed): Promise<Manifest> =>
  JSON.parse(await readFile(join(root, 'package.json'), 'utf8'));

/** The doors of the library, by the names they are imported by, with their files. */
export const doorsOf = (manifest: Manifest) =>
  Object.entries(manifest.exports).flatMap(([name, entry]) =>
    typeof entry === 'string' ? [] : [{ name, ...entry }],
  );

/** A project of somebody else's that depends on the package. */
export const makeProject = async ({ folder, root }: Packed, name: string): Promise<string> => {
  const project = join(folder, name);
  await mkdir(join(project, 'node_modules'), { recursive: true });
  await symlink(root, join(project, 'node_modules', 'bandwright'), 'junction');
  return project;
};
