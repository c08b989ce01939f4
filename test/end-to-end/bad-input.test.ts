import { chmod, lstat, mkdir, truncate, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Case, kind, rig, unreadable } from './bad-input/case.js';
import { badInputs } from './bad-input/inputs.js';
import { badJournals } from './bad-input/journals.js';
import { badJson } from './bad-input/json.js';
import { badKinds } from './bad-input/kinds.js';
import { badLines } from './bad-input/lines.js';
import { badOutputs, unwritablePlaces } from './bad-input/outputs.js';
import { badTargets } from './bad-input/targets.js';
import { badXml } from './bad-input/xml.js';
import { eachOf, filesUnder, inFolder, type Run, run, runLoaded, scratchFolder } from './run.js';

const huge: Case = {
  ...rig('a file of 100 MB', '', 'file-too-large', '8 MiB'),
  before: (folder) => truncate(join(folder, 'show.json'), 100e6),
};

const cases: readonly Case[] = [
  ...badJson,
  ...badXml,
  ...badTargets,
  ...badJournals,
  ...badInputs,
  huge,
  ...badOutputs,
  ...unwritablePlaces,
  ...badLines,
  ...badKinds,
];

const prepare = async ({ files = {}, before }: Case, folder: string): Promise<void> => {
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), content);
  }
  await before?.(folder);
};

/** Everything in a folder, hidden files too: which it is, how large, when last written. */
const stateOf = async (folder: string): Promise<readonly string[]> =>
  Promise.all(
    (await filesUnder(folder)).map(async (name) => {
      const found = await lstat(join(folder, name));
      const content = found.isDirectory() ? [] : [found.size, found.mtimeMs];
      return [name, found.ino, found.mode, ...content].join(' ');
    }),
  );

/** Lines are broken to the width of a terminal; what they say is not. */
const unwrapped = (text: string): string => text.replace(/\s*\n\s*/g, ' ');

interface ToldProblem {
  readonly code: string;
  readonly path: string;
  readonly message: string;
  readonly source?: string;
  readonly line?: number;
  readonly column?: number;
}

const problemText = ({ source = '', line, column, path, message }: ToldProblem): string =>
  `${[source, line, column].filter((part) => part !== undefined).join(':')} ${path}: ${message}`;

/** What a case came to: what the program said, and the folder it ran in before and after. */
interface Trial {
  readonly run: Run;
  readonly before: readonly string[];
  readonly after: readonly string[];
}

const tried = (each: Case, runs: typeof runLoaded, ...more: readonly string[]): Promise<Trial> =>
  inFolder(async (folder) => {
    await prepare(each, folder);
    const before = await stateOf(folder);
    const done = await runs([...each.args, ...more], { cwd: folder, stdin: each.stdin ?? '' });
    return { run: done, before, after: await stateOf(folder) };
  });

/** Programs are told in one way of all problems: the first case of each code shows it, in a process of its own. */
const forPrograms = [...new Set(cases.map(({ code }) => code))].flatMap(
  (code) => cases.find((each) => each.code === code && !each.plainOnly) ?? [],
);

const plainTrials = new Map<Case, Trial>();
const jsonTrials = new Map<Case, Trial>();

beforeAll(async () => {
  await eachOf(cases, async (each) => plainTrials.set(each, await tried(each, runLoaded)));
  await eachOf(forPrograms, async (each) => jsonTrials.set(each, await tried(each, run, '--json')));
});

/** No trace of the program's own insides, nothing a terminal would obey, nothing left behind. */
const expectClean = ({ run: { stderr, stdout }, before, after }: Trial): void => {
  for (const text of [stderr, stdout.toString()]) {
    expect(text).not.toMatch(/^\s*at (.* \()?\S+:\d+:\d+\)?$/m);
    expect(text).not.toMatch(/^\w*Error\b|node:internal|node_modules|dist\//m);
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
  }
  expect(after).toEqual(before);
};

/** What does not depend on how a sentence begins. */
const expectSaid = (text: string, { says }: Case): void => {
  for (const part of says) expect(text.toLowerCase()).toContain(part.toLowerCase());
};

const trialOf = (trials: ReadonlyMap<Case, Trial>, each: Case): Trial => {
  const trial = trials.get(each);
  if (!trial) throw new Error('it was not tried');
  return trial;
};

describe('what is wrong is told, and nothing is left behind', () => {
  it.each(cases)('$what', (each) => {
    const trial = trialOf(plainTrials, each);
    const said = unwrapped(trial.run.stderr);
    expectSaid(said, each);
    // What commander itself refuses bears no code.
    if (!/^(error|Usage): /.test(said)) expect(said).toContain(`[${each.code}]`);
    if (!each.args.includes('--json')) expect(trial.run.stdout.toString()).toBe('');
    expect(trial.run.exitCode).toBe(each.exit);
    expectClean(trial);
  });

  it.each(forPrograms)('$what, for a program', (each) => {
    const trial = trialOf(jsonTrials, each);
    const told = JSON.parse(trial.run.stdout.toString()) as { readonly problems: readonly ToldProblem[] };
    expect(told.problems[0]?.code).toBe(each.code);
    expectSaid(told.problems.map(problemText).join(' '), each);
    expect(trial.run.exitCode).toBe(each.exit);
    expectClean(trial);
  });

  it('there are a good many cases, each of its own', () => {
    expect(cases.length).toBeGreaterThan(120);
    expect(new Set(cases.map(({ what }) => what)).size).toBe(cases.length);
  });
});

describe('what is too much', () => {
  /** Prints, when the program ends, the most memory it held at any time, in KiB. */
  const tellMemory = `--import=data:text/javascript,process.on('exit',()=>process.stderr.write('\\npeak%20'+process.resourceUsage().maxRSS))`;

  const peakKiB = async (bytes: number): Promise<number> => {
    const folder = await scratchFolder();
    await writeFile(join(folder, 'show.json'), '');
    await truncate(join(folder, 'show.json'), bytes);
    const { exitCode, stderr } = await run(huge.args, { cwd: folder, env: { NODE_OPTIONS: tellMemory } });
    expect(exitCode).toBe(3);
    expect(stderr).toContain('8 MiB');
    return Number(/peak (\d+)$/.exec(stderr)?.[1]);
  };

  it('costs no more memory however much it is', async () => {
    const [little, much] = [await peakKiB(9e6), await peakKiB(900e6)];
    expect(little).toBeGreaterThan(10_000);
    expect(much - little).toBeLessThan(16 * 1024);
  });

  it.runIf(process.platform === 'linux')('and may never end', async () => {
    const { exitCode, stderr } = await run(['recipe', '/dev/zero', '--target', 'log-179']);
    expect(stderr).toContain('8 MiB');
    expect(exitCode).toBe(3);
  });
});

describe('where this user is refused', () => {
  // For root nothing is unreadable; the cases above refuse root too.
  const isRoot = process.getuid?.() === 0;

  it.skipIf(isRoot)('a file that must not be read, a folder that must not be written', async () => {
    const folder = await scratchFolder();
    await prepare(unreadable('', ''), folder);
    await mkdir(join(folder, 'locked'), { mode: 0o500 });
    await chmod(join(folder, 'show.json'), 0o000);
    const input = await run(['recipe', 'show.json', '--target', 'r40'], { cwd: folder });
    expect([input.exitCode, input.stderr]).toEqual([4, expect.stringContaining('access is not permitted')]);
    await chmod(join(folder, 'show.json'), 0o600);
    const to = ['--output', 'locked/out.txt'];
    const out = await run(['recipe', 'show.json', '--target', 'r40', ...to], { cwd: folder });
    expect([out.exitCode, out.stderr]).toEqual([4, expect.stringContaining('access is not permitted')]);
  });
});

it('a module that ends the program leaves no half-written file and does not pass for success', async () => {
  const each = kind('', 'process.exit(0);');
  const folder = await scratchFolder();
  await prepare(each, folder);
  const { exitCode, stderr } = await run(each.args, { cwd: folder });
  expect(await filesUnder(folder)).toEqual(['kind.mjs', 'show.json']);
  expect(stderr).toContain('nothing was written');
  expect(exitCode).toBe(4);
});
