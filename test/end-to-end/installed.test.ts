import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { builtinModules } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, posix } from 'node:path';
import { parseSync } from 'oxc-parser';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as library from '../../src/index.js';
import { targetJson } from './bad-input/samples.js';
import { filesUnder, fixture, projectRoot, type Run, run, runProgram } from './run.js';

interface Packed {
  readonly filename: string;
  readonly files: readonly { readonly path: string }[];
}

/** Where the package is unpacked, with no node_modules beside it or above. */
let folder: string;
let root: string;
let paths: readonly string[];

const succeeded = ({ exitCode, stdout, stderr }: Run): string => {
  if (exitCode !== 0) throw new Error(stderr);
  return stdout.toString();
};

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  root = join(folder, 'package');
  const env = {
    npm_config_cache: join(folder, 'cache'),
    npm_config_offline: 'true',
    npm_config_loglevel: 'error',
  };
  const options = ['--ignore-scripts', '--json', '--pack-destination', folder];
  const pack = await runProgram('npm', ['pack', ...options], { cwd: projectRoot, env });
  const [packed] = JSON.parse(succeeded(pack)) as readonly Packed[];
  if (!packed) throw new Error('nothing was packed');
  paths = packed.files.map(({ path }) => path).sort();
  succeeded(await runProgram('tar', ['-xzf', join(folder, packed.filename), '-C', folder]));
}, 120_000);

afterAll(() => rm(folder, { recursive: true, force: true }));

/** What a module imports, statically or not, by the specifiers it writes. */
const importsOf = async (path: string): Promise<readonly string[]> => {
  const source = await readFile(join(root, path), 'utf8');
  const { module } = parseSync(path, source);
  const dynamic = module.dynamicImports
    .map(({ moduleRequest: { start, end } }) => source.slice(start, end))
    // What is no text in quotes is a path of the user's: the module that --quantiser names.
    .flatMap((request) => (/^["'].*["']$/.test(request) ? [request.slice(1, -1)] : []));
  return [...module.staticImports.map(({ moduleRequest }) => moduleRequest.value), ...dynamic];
};

describe('the package', () => {
  it('holds every schema, every target and its licence, and nothing that is for development', async () => {
    const schemas = (await readdir(join(projectRoot, 'schemas'))).filter((name) => name.endsWith('.json'));
    const targets = await readdir(join(projectRoot, 'targets'));
    const programs = ['dist/main.js', 'dist/index.js', 'dist/fit-worker.js'];
    const needed = ['LICENSE', 'package.json', ...programs, 'dist/types/index.d.ts'];
    expect(paths).toEqual(
      expect.arrayContaining([
        ...needed,
        ...schemas.map((name) => `schemas/${name}`),
        ...targets.map((name) => `targets/${name}`),
      ]),
    );
    expect(schemas.length + targets.length).toBeGreaterThan(18);
    const places = [...new Set(paths.map((path) => path.split('/')[0]))];
    const known = ['LICENSE', 'README.md', 'CHANGELOG.md', 'dist', 'package.json', 'schemas', 'targets'];
    expect(places.filter((place) => place === undefined || !known.includes(place))).toEqual([]);
  });

  it('holds every module that its own modules import, and leans on no other package', async () => {
    const seen = new Set<string>();
    const queue = ['dist/main.js', 'dist/index.js', 'dist/fit-worker.js'];
    const foreign = new Set<string>();
    for (const path of queue) {
      if (seen.has(path)) continue;
      seen.add(path);
      for (const specifier of await importsOf(path)) {
        if (specifier.startsWith('.')) queue.push(posix.join(posix.dirname(path), specifier));
        else foreign.add(specifier.replace(/^node:/, ''));
      }
    }
    expect([...seen].filter((path) => !paths.includes(path))).toEqual([]);
    expect(seen.size).toBeGreaterThan(10);
    expect([...foreign].filter((name) => !builtinModules.includes(name))).toEqual([]);
  });

  it('names what its manifest says it has', async () => {
    const manifest = JSON.parse(await readFile(join(root, 'package.json'), 'utf8')) as {
      bin: Record<string, string>;
      exports: { '.': { types: string; default: string } };
    };
    const entry = manifest.exports['.'];
    for (const path of [...Object.values(manifest.bin), entry.types, entry.default]) {
      expect(paths).toContain(posix.normalize(path));
    }
    expect(await readFile(join(root, 'dist/main.js'), 'utf8')).toMatch(/^#!\/usr\/bin\/env node\n/);
  });

  it('tells nothing of the machine it was built on', async () => {
    const here = dirname(join(projectRoot, 'package.json'));
    for (const path of await filesUnder(root)) {
      if (!/\.\w+$/.test(path)) continue;
      expect((await readFile(join(root, path))).includes(here), path).toBe(false);
    }
  });
});

describe('the installed program', () => {
  it.each([
    '--version',
    'targets list --json',
    'targets show lr-24',
    'targets convert log-179 --to xml',
    'check --target r40',
    `compare ${fixture('rig-small.json')} --targets r40,octave-6`,
    'demo',
  ])('says what it says here: bandwright %s', async (line) => {
    const args = line.split(' ');
    const [there, here] = [
      await run(args, { main: join(root, 'dist/main.js'), cwd: folder }),
      await run(args),
    ];
    expect(there.stdout.length).toBeGreaterThan(4);
    expect(there).toEqual(here);
  });

  it('makes a recipe in every format', async () => {
    const formats = 'text,json,xml,csv,osc,osc-binary,osc-bundle';
    const args = ['recipe', fixture('rig-quay.xml'), '--target', 'log-179', '--format', formats];
    const there = await run([...args, '--output', 'there/'], {
      main: join(root, 'dist/main.js'),
      cwd: folder,
    });
    expect(there.stderr).toContain('Wrote there/recipe-bundle.osc');
    await run([...args, '--output', 'here/'], { cwd: folder });
    const names = await readdir(join(folder, 'there'));
    expect(names).toHaveLength(7);
    for (const name of names) {
      const [one, other] = await Promise.all(
        ['there', 'here'].map((each) => readFile(join(folder, each, name))),
      );
      expect(one?.equals(other as Buffer), name).toBe(true);
    }
  });
});

describe('the installed library', () => {
  const script = `
import { readFile } from 'node:fs/promises';
import * as library from 'bandwright';
const { fits, loadTarget, makeDesk, makeRecipe, readRig, readTarget } = library;
const must = (outcome) => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.error));
  return outcome.value;
};
const rig = must(await readRig(await readFile('show.json'), { source: 'show.json' }));
const desk = must(makeDesk(must(await readTarget(await readFile('our-desk.json'), { source: 'our-desk.json' }))));
const recipe = must(makeRecipe(rig, desk, { fit: fits.find(({ name }) => name === 'nearest'), spareSlots: 0 }));
const shipped = must(await loadTarget('log-179'));
console.log(JSON.stringify({ names: Object.keys(library).sort(), recipe, shipped: shipped.id }));
`;

  /** A project that depends on the package. */
  let cwd: string;

  beforeAll(async () => {
    cwd = join(folder, 'own');
    await mkdir(join(cwd, 'node_modules'), { recursive: true });
    await symlink(root, join(cwd, 'node_modules', 'bandwright'), 'junction');
    await copyFile(fixture('rig-small.json'), join(cwd, 'show.json'));
    await writeFile(join(cwd, 'our-desk.json'), targetJson);
  });

  it('makes the recipe that the program makes', async () => {
    await writeFile(join(cwd, 'script.mjs'), script);
    const told = JSON.parse(succeeded(await runProgram(process.execPath, ['script.mjs'], { cwd })));
    const args = ['recipe', 'show.json', '--target', './our-desk.json', '--fit', 'nearest', '--json'];
    expect(told.recipe).toEqual(JSON.parse((await run(args, { cwd })).stdout.toString()));
    expect(told.shipped).toBe('log-179');
    expect(told.names).toEqual(Object.keys(library).sort());
  });

  it('brings types that a strict compiler takes', async () => {
    await writeFile(
      join(cwd, 'typed.ts'),
      `import { hz, magnitudeDb, readRig, type Recipe, type Rig } from 'bandwright';
const firstName = ({ mixes }: Recipe): string => mixes[0]?.name ?? '';
export const rig: Promise<{ ok: boolean }> = readRig('{}', { source: 'none' });
export const all = [hz(19000), magnitudeDb, firstName] as const;
// @ts-expect-error A rig has no desks.
export const wrong = (rig: Rig) => rig.desks;
`,
    );
    const settings = [
      '--strict',
      '--noEmit',
      '--skipLibCheck',
      'false',
      '--module',
      'nodenext',
      '--target',
      'es2022',
    ];
    const compiler = join(projectRoot, 'node_modules', '.bin', 'tsc');
    const { stdout, exitCode } = await runProgram(compiler, [...settings, 'typed.ts'], { cwd });
    expect(stdout.toString()).toBe('');
    expect(exitCode).toBe(0);
  });
});
