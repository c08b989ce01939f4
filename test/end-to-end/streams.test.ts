import { spawn } from 'node:child_process';
import { copyFile, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { intentsJson, rigJson, targetJson } from './bad-input/samples.js';
import {
  binary,
  environment,
  filesUnder,
  fixture,
  projectRoot,
  run,
  runLoaded,
  runProgram,
  scratchFolder,
} from './run.js';

/** A folder with the files that the examples of the help texts name, and one whose name is taken. */
const exampleFolder = async (): Promise<string> => {
  const folder = await scratchFolder();
  await copyFile(fixture('rig-small.json'), join(folder, 'show.json'));
  await copyFile(fixture('rig-small.json'), join(folder, 'taken.wav'));
  await writeFile(join(folder, 'our-desk.json'), targetJson);
  return folder;
};

const show = ['recipe', 'show.json', '--target', 'log-179', '--fit', 'nearest'];

/** Every command at work, and what it says to people on standard error. */
const goodLines: readonly { args: readonly string[]; messages: RegExp }[] = [
  { args: show, messages: /^$/ },
  { args: ['check', '--target', 'log-179'], messages: /^$/ },
  { args: ['tradeoff', '--target', 'top-18'], messages: /^$/ },
  { args: ['compare', 'show.json', '--targets', 'r40,octave-6'], messages: /^$/ },
  { args: ['targets', 'list'], messages: /^$/ },
  { args: ['targets', 'show', 'log-179'], messages: /^$/ },
  { args: ['targets', 'lint', './our-desk.json', 'r40'], messages: /^$/ },
  { args: ['targets', 'convert', 'log-179', '--to', 'json'], messages: /^$/ },
  { args: ['targets', 'convert', 'log-179', '--to', 'xml'], messages: /^$/ },
  { args: ['demo'], messages: /^A demonstration: / },
];

/** Every command that fails. */
const badLines: readonly { args: readonly string[]; exit: number }[] = [
  { args: ['recipe', 'gone.json', '--target', 'log-179'], exit: 4 },
  { args: ['recipe', 'show.json'], exit: 2 },
  { args: ['compare', 'gone.json'], exit: 4 },
  { args: ['compare', 'our-desk.json'], exit: 3 },
  { args: ['compare', 'show.json', '--targets', 'r41'], exit: 2 },
  { args: ['check', '--target', 'log-999'], exit: 2 },
  { args: ['check', '--pilot', 'x'], exit: 2 },
  { args: ['tradeoff', '--target', './gone.json'], exit: 4 },
  { args: ['hear', '--target', 'r40', '--output', 'show.json'], exit: 2 },
  { args: ['hear', '--target', 'r40', '--output', 'taken.wav'], exit: 4 },
  { args: ['targets', 'list', '--sort'], exit: 2 },
  { args: ['targets', 'show', './gone.json'], exit: 4 },
  { args: ['targets', 'lint', './show.json', './our-desk.json'], exit: 3 },
  { args: ['targets', 'convert', 'gone.json', '--to', 'xml'], exit: 4 },
  { args: ['targets', 'convert', 'log-179'], exit: 2 },
  { args: ['demo', 'more'], exit: 2 },
];

const title = ({ args }: { readonly args: readonly string[] }) => ({ line: args.join(' ') });
const titled = <Row extends { readonly args: readonly string[] }>(rows: readonly Row[]) =>
  rows.map((row) => ({ ...row, ...title(row) }));

interface Told {
  readonly problems?: readonly unknown[];
  readonly mixes?: readonly { readonly guard: { readonly verdict: string } | null }[];
}

/** A recipe ends with 1 where a guard falls short or anything could not be done as asked, all else with 0. */
const exitFor = ({ problems = [], mixes = [] }: Told): number =>
  problems.length > 0 || mixes.some(({ guard }) => guard?.verdict === 'falls-short') ? 1 : 0;

describe('standard output is for data, standard error for people', () => {
  it.each(titled(goodLines))('$line', async ({ args, messages }) => {
    const cwd = await exampleFolder();
    const [plain, json] = await Promise.all([
      run(args, { cwd, env: { FORCE_COLOR: '1' } }),
      runLoaded([...args, '--json'], { cwd }),
    ]);
    expect(plain.stdout.length).toBeGreaterThan(30);
    expect(plain.stderr).toMatch(messages);
    // Nobody looks: no colours.
    expect(plain.stdout.toString() + plain.stderr).not.toContain('\u001b');
    const exit = exitFor(JSON.parse(json.stdout.toString()) as Told);
    expect([plain.exitCode, json.exitCode]).toEqual([exit, exit]);
  });

  it.each(titled(badLines))('$line', async ({ args, exit }) => {
    const cwd = await exampleFolder();
    const { stdout, stderr, exitCode } = await run([...args, '--json'], { cwd });
    const told = JSON.parse(stdout.toString()) as Readonly<Record<string, readonly unknown[]>>;
    expect((told.problems ?? told.linted)?.length).toBeGreaterThan(0);
    expect(stderr).not.toBe('');
    expect(exitCode).toBe(exit);
  });

  it('a recipe that does not go to a person is summed up for whoever started it', async () => {
    const { stdout, stderr } = await runLoaded([...show, '--format', 'csv'], { cwd: await exampleFolder() });
    expect(stdout.toString()).toMatch(/^rig_title,/);
    expect(stderr).toMatch(/^2 of 2 guarded mixes fall short;[^\n]*\n$/);
  });

  it('an output file leaves nothing on standard output, and its folders are made', async () => {
    const cwd = await exampleFolder();
    const { stdout, stderr } = await runLoaded([...show, '--output', 'new/deep/recipe.txt'], { cwd });
    expect(stdout.length).toBe(0);
    expect(stderr).toContain('Wrote new/deep/recipe.txt');
    expect(stderr).toMatch(/^2 of 2 guarded mixes fall short;[^\n]* told by recipe --full\.$/m);
    const full = await runLoaded([...show, '--output', 'full.txt', '--full'], { cwd });
    expect(full.stderr).toMatch(/^2 of 2 guarded mixes fall short;[^\n]* assumptions, told /m);
    expect(full.stderr).not.toContain('--full');
    await rm(join(cwd, 'full.txt'));
    const piped = await run([...show, '--output', '-'], { cwd });
    expect(piped.stderr).toBe('');
    expect(piped.stdout).toEqual(await readFile(join(cwd, 'new/deep/recipe.txt')));
    expect(await filesUnder(cwd)).toEqual([
      'new',
      'new/deep',
      'new/deep/recipe.txt',
      'our-desk.json',
      'show.json',
      'taken.wav',
    ]);
  });

  it('an output file that is there is replaced when told so, whole', async () => {
    const cwd = await exampleFolder();
    await writeFile(join(cwd, 'recipe.txt'), 'x'.repeat(100_000));
    await runLoaded([...show, '--output', 'recipe.txt', '--force'], { cwd });
    expect(await readFile(join(cwd, 'recipe.txt'))).toEqual((await runLoaded(show, { cwd })).stdout);
  });
});

describe('standard input', () => {
  it.each([
    ['a rig in JSON', 'rig-small.json'],
    ['a rig in XML', 'rig-quay.xml'],
  ])('%s', async (_, name) => {
    const args = ['--target', 'r40', '--json'];
    const fromFile = await runLoaded(['recipe', fixture(name), ...args]);
    const piped = await run(['recipe', '-', ...args], { stdin: await readFile(fixture(name)) });
    expect(piped.stdout.length).toBeGreaterThan(1000);
    expect(piped.stdout.equals(fromFile.stdout)).toBe(true);
    expect(piped.exitCode).toBe(fromFile.exitCode);
  });

  it('a target', async () => {
    const cwd = await exampleFolder();
    const piped = await run(['recipe', 'show.json', '--target', '-', '--json'], { cwd, stdin: targetJson });
    expect(JSON.parse(piped.stdout.toString())).toMatchObject({ target: { id: 'pier-desk' } });
  });

  it('filters for outputs that the command line names', async () => {
    const args = ['recipe', '-', '--target', 'log-179', '--outputs', '3/4', '--json'];
    const { stdout, exitCode } = await run(args, { stdin: intentsJson });
    const filters = [{ role: 'box', type: 'peaking' }];
    expect(JSON.parse(stdout.toString())).toMatchObject({ mixes: [{ outputs: [3, 4], filters }] });
    expect(exitCode).toBe(0);
  });
});

describe('a reader that stops early', () => {
  it.each(['stdout', 'stderr'] as const)('%s', async (name) => {
    const rig = fixture('rig-24-mixes.json');
    const args = ['recipe', rig, '--target', 'floats', '--fit', 'nearest', '--json'];
    const child = spawn(process.execPath, [binary, ...args], { env: environment() });
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    if (name === 'stderr') child.stderr.destroy();
    // A pipe holds 64 KiB; this recipe is larger, so that the program writes to a pipe that is closed.
    let bytes = 0;
    child.stdout.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      if (name === 'stdout') child.stdout.destroy();
    });
    const [exitCode, signal] = await new Promise<[number | null, string | null]>((resolve) => {
      child.on('close', (...end) => resolve(end));
    });
    expect(said).not.toMatch(/EPIPE|Error|^\s+at /m);
    expect(signal).toBeNull();
    expect([0, 1]).toContain(exitCode);
    if (name === 'stderr') expect(bytes).toBeGreaterThan(70_000);
  });
});

it.each(['SIGINT', 'SIGTERM'] as const)(
  '%s while it waits ends it with 130 and no half-written file',
  async (signal) => {
    const cwd = await scratchFolder();
    const args = ['recipe', '-', '--target', 'log-179', '--output', 'new/recipe.txt'];
    const child = spawn(process.execPath, [binary, ...args], { cwd, env: environment(), stdio: 'pipe' });
    let said = '';
    child.stderr.on('data', (chunk: Buffer) => {
      said += chunk.toString();
    });
    const ended = new Promise((resolve) => child.on('close', (...end) => resolve(end)));
    const isWaiting = async () => (await filesUnder(cwd)).some((name) => name.endsWith('.part'));
    while (!(await isWaiting())) {
      expect(child.exitCode).toBeNull();
      await setTimeout(10);
    }
    child.kill(signal);
    expect(await ended).toEqual([130, null]);
    expect(said).toMatch(/^\nbandwright: interrupted; [^\n]*\n$/);
    expect(await filesUnder(cwd)).toEqual([]);
  },
);

it('a pipe that a file comes through is read as a file is', async () => {
  const cwd = await scratchFolder();
  await writeFile(join(cwd, 'show.json'), rigJson);
  const line = `"${process.execPath}" "${binary}" recipe <(cat show.json) --target r40 --json`;
  const { stdout, exitCode } = await runProgram('bash', ['-c', line], { cwd });
  expect(JSON.parse(stdout.toString())).toMatchObject({ rig: { title: 'Pier, matinee' } });
  expect([0, 1]).toContain(exitCode);
});

it('--version tells the version of the package', async () => {
  const { version } = JSON.parse(await readFile(join(projectRoot, 'package.json'), 'utf8')) as {
    version: string;
  };
  const { stdout, stderr, exitCode } = await run(['--version']);
  expect([stdout.toString(), stderr, exitCode]).toEqual([`${version}\n`, '', 0]);
});
