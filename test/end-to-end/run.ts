import { type ChildProcess, fork, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readdir, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';

/** The project's own folder. */
export const projectRoot = fileURLToPath(new URL('../../', import.meta.url));

/** The program as users run it: built, in a process of its own. */
export const binary = join(projectRoot, 'dist', 'main.cjs');

if (!existsSync(binary)) {
  throw new Error(`${binary} is not there. These tests run the built program: "npm run build" makes it.`);
}

export const fixture = (name: string): string => join(projectRoot, 'test', 'fixtures', name);

export interface RunOptions {
  /** Bytes on standard input; none unless given. */
  readonly stdin?: string | Uint8Array;
  readonly cwd?: string;
  /** Set on top of a plain environment; `undefined` takes a variable away. */
  readonly env?: Readonly<Record<string, string | undefined>>;
  /** A program that has not ended by then hangs: it is killed and the run fails. */
  readonly timeoutMs?: number;
  /** The program to run instead of the one in dist/. */
  readonly main?: string;
}

export interface Run {
  readonly exitCode: number | null;
  readonly stdout: Buffer;
  readonly stderr: string;
}

/** What colours, or a test runner, would put into the environment. */
const untold = ['NO_COLOR', 'FORCE_COLOR', 'NODE_OPTIONS', 'NODE_ENV', 'COLUMNS', 'npm_config_color'];

/** The environment of a run: this one's, without what would change what the program prints. */
export const environment = (changes: RunOptions['env'] = {}): NodeJS.ProcessEnv => {
  const plain = Object.entries(process.env).filter(
    ([name]) => !untold.includes(name) && !name.startsWith('VITEST'),
  );
  const all = Object.entries({ ...Object.fromEntries(plain), ...changes });
  return Object.fromEntries(all.filter(([, value]) => value !== undefined));
};

/** Runs a program to its end and collects what it says. */
export const runProgram = (
  file: string,
  args: readonly string[],
  { stdin = '', cwd, env, timeoutMs = 200_000 }: RunOptions = {},
): Promise<Run> =>
  new Promise((resolve, reject) => {
    const child = spawn(file, args, { cwd, env: environment(env), stdio: 'pipe' });
    const [out, err]: [Buffer[], Buffer[]] = [[], []];
    const late = setTimeout(() => {
      child.kill('SIGKILL');
      reject(new Error(`still running after ${timeoutMs} ms: ${[file, ...args].join(' ')}`));
    }, timeoutMs);
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => err.push(chunk));
    // A program that ends without reading what it is given is no fault of the run.
    child.stdin.on('error', () => undefined);
    child.stdin.end(stdin);
    child.on('error', reject);
    child.on('close', (exitCode) => {
      clearTimeout(late);
      resolve({ exitCode, stdout: Buffer.concat(out), stderr: Buffer.concat(err).toString('utf8') });
    });
  });

/** Runs `bandwright` with arguments. */
export const run = (args: readonly string[], options: RunOptions = {}): Promise<Run> =>
  runProgram(process.execPath, [options.main ?? binary, ...args], options);

/** What `resident.cjs` is sent, and what it says. */
interface Errand {
  readonly main: string;
  readonly args: readonly string[];
  readonly cwd: string;
  readonly env: NodeJS.ProcessEnv;
  readonly stdin: string | Uint8Array;
}

interface Said {
  readonly exitCode: number;
  readonly stdout: Uint8Array;
  readonly stderr: Uint8Array;
}

const resident = join(projectRoot, 'test', 'end-to-end', 'resident.cjs');

/** Residents that wait for a command line, and command lines that wait for a resident. */
const idle: ChildProcess[] = [];
const waiting: ((child: ChildProcess) => void)[] = [];
/** Each has to be started and warmed up: so many are enough where commands wait for a network. */
const mostResidents = 4;
let residents = 0;

const newResident = (): ChildProcess => {
  const child = fork(resident, [], { env: environment(), serialization: 'advanced', stdio: 'pipe' });
  residents++;
  // It ends with the tests, which do not wait for it.
  child.unref();
  child.channel?.unref();
  return child;
};

const takeResident = async (): Promise<ChildProcess> =>
  idle.pop() ?? (residents < mostResidents ? newResident() : new Promise((resolve) => waiting.push(resolve)));

const giveBack = (child: ChildProcess): void => {
  const next = waiting.shift();
  if (next) next(child);
  else idle.push(child);
};

/** One that has ended makes place for another. */
const giveUp = (): void => {
  residents--;
  waiting.shift()?.(newResident());
};

/**
 * Runs `bandwright` with arguments in a process where it is loaded already: for tests of what it says and does to files
 * and desks. What belongs to the process (signals, terminals, streams that close, memory, `NODE_OPTIONS`) takes `run`.
 */
export const runLoaded = async (
  args: readonly string[],
  { stdin = '', cwd = projectRoot, env, timeoutMs = 200_000 }: Omit<RunOptions, 'main'> = {},
): Promise<Run> => {
  const child = await takeResident();
  const line = ['bandwright', ...args].join(' ');
  return new Promise((resolve, reject) => {
    const ended = (exitCode: number | null, signal: string | null): void => {
      clearTimeout(late);
      giveUp();
      reject(new Error(`ended by ${signal ?? exitCode}, which takes a process of its own: ${line}`));
    };
    const late = setTimeout(() => {
      child.off('exit', ended).kill('SIGKILL');
      giveUp();
      reject(new Error(`still running after ${timeoutMs} ms: ${line}`));
    }, timeoutMs);
    child.once('exit', ended);
    child.once('message', (said) => {
      clearTimeout(late);
      child.off('exit', ended);
      giveBack(child);
      const { exitCode, stdout, stderr } = said as Said;
      resolve({ exitCode, stdout: Buffer.from(stdout), stderr: Buffer.from(stderr).toString('utf8') });
    });
    const errand: Errand = { main: binary, args, cwd, env: environment(env), stdin };
    child.send(errand);
  });
};

const emptyFolder = async (): Promise<string> => realpath(await mkdtemp(join(tmpdir(), 'bandwright-')));

const remove = (folder: string): Promise<void> => rm(folder, { recursive: true, force: true });

/** Does some work in an empty folder that is gone again afterwards. */
export const inFolder = async <Result>(work: (folder: string) => Promise<Result>): Promise<Result> => {
  const folder = await emptyFolder();
  try {
    return await work(folder);
  } finally {
    await remove(folder);
  }
};

/** An empty folder that is gone again once the test has ended. */
export const scratchFolder = async (): Promise<string> => {
  const folder = await emptyFolder();
  onTestFinished(() => remove(folder));
  return folder;
};

/** Every file and folder under a folder, hidden ones too, by its path from there, in order. */
export const filesUnder = async (folder: string): Promise<readonly string[]> =>
  (await readdir(folder, { recursive: true })).sort();

/** Does the work on every item, so many at once: a new process for each of hundreds would choke a machine. */
export const eachOf = async <Item, Result>(
  items: readonly Item[],
  work: (item: Item) => Promise<Result>,
  atOnce = 3,
): Promise<readonly Result[]> => {
  const results: Result[] = [];
  const queue = items.entries();
  const worker = async (): Promise<void> => {
    for (const [index, item] of queue) results[index] = await work(item);
  };
  await Promise.all(Array.from({ length: atOnce }, worker));
  return results;
};
