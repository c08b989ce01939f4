import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { binary, fixture, projectRoot, runProgram } from '../end-to-end/run.js';

const folder = await mkdtemp(join(tmpdir(), 'bandwright-start-'));
afterAll(() => rm(folder, { recursive: true, force: true }));
await copyFile(fixture('rig-small.json'), join(folder, 'show.json'));

const program = (await readdir(join(projectRoot, 'dist/program'))).map((name) => basename(name, '.cjs'));

const watcher = join(folder, 'watch.cjs');
await writeFile(
  watcher,
  `process.on('exit', () => {
  const loaded = { files: Object.keys(require.cache), builtin: process.moduleLoadList };
  require('node:fs').writeFileSync('loaded.json', JSON.stringify(loaded));
});
`,
);

/** The files of the program that a run loads, without their ending, and what it loads of Node.js. */
const loadedBy = async (...args: readonly string[]) => {
  await runProgram(process.execPath, ['--require', watcher, binary, ...args], { cwd: folder });
  const { files, builtin } = JSON.parse(await readFile(join(folder, 'loaded.json'), 'utf8')) as {
    readonly files: readonly string[];
    readonly builtin: readonly string[];
  };
  const ours = files.filter((path) => path !== watcher);
  return { files: ours.map((path) => basename(path, '.cjs')).sort(), builtin };
};

/** What Node.js brings for a network, threads and questions; `net` it loads itself where output goes into a pipe. */
const forLater = /^NativeModule (dgram|dns|tls|worker_threads|readline|child_process|crypto)$/;

describe('a start loads what it uses', () => {
  it('a help text: the commands and their options, nothing that does their work', async () => {
    const { files, builtin } = await loadedBy('--help');
    expect(files).toEqual(['commands', 'main', 'rolldown-runtime']);
    expect(builtin.length).toBeGreaterThan(20);
    expect(builtin.filter((name) => forLater.test(name))).toEqual([]);
  });

  it('a recipe of JSON files as text: no XML, no OSC, no words for faults, no other fits and documents, no network, no threads', async () => {
    const args = ['recipe', 'show.json', '--target', 'log-179', '--fit', 'nearest'];
    const { files, builtin } = await loadedBy(...args);
    expect(files).toEqual(
      expect.arrayContaining(['document-rig', 'document-target', 'exporters', 'fitting', 'model', 'recipe']),
    );
    for (const name of [
      ...['xml', 'json', 'osc', 'codec', 'describing', 'live', 'threads', 'targets', 'writing', 'hear'],
      ...['document-intents', 'document-recipe', 'document-journal', 'match', 'protect'],
      ...['guided', 'prompts'],
    ]) {
      expect(program).toContain(name);
      expect(files).not.toContain(name);
    }
    expect(builtin.filter((name) => forLater.test(name))).toEqual([]);
  });

  it('a rig from options: no prompts', async () => {
    const { files, builtin } = await loadedBy('rig', 'new', '-', '--system', 'a=wired', '--mix', 'Singer');
    expect(files).toContain('guided');
    expect(files).not.toContain('prompts');
    expect(builtin.filter((name) => forLater.test(name))).toEqual([]);
  });

  it('a file of the program, in whatever order: none needs another to have been loaded before it', async () => {
    // These do their work as they are loaded, the first of them before any other.
    const names = program.filter((name) => name !== 'commands' && name !== 'fit-worker');
    expect(names.length).toBeGreaterThan(20);
    const first = join(folder, 'first.cjs');
    const text = `for (const path of ${JSON.stringify(names.map((name) => join(projectRoot, 'dist/program', `${name}.cjs`)))}) {
      for (const each of Object.keys(require.cache)) if (each !== __filename && !each.endsWith('commands.cjs')) delete require.cache[each];
      require(path);
    }`;
    await writeFile(first, text);
    const { exitCode, stderr } = await runProgram(process.execPath, [first], { cwd: folder });
    expect(stderr).toBe('');
    expect(exitCode).toBe(0);
  });

  it('asks Node.js to keep what it compiles, where it can, before anything else is loaded', async () => {
    const first = await readFile(binary, 'utf8');
    expect(first.length).toBeLessThan(1000);
    expect(first.indexOf('enableCompileCache')).toBeGreaterThan(0);
    expect(first.indexOf('enableCompileCache')).toBeLessThan(first.indexOf('./program/commands.cjs'));
  });
});
