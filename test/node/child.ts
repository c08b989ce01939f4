import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { build } from 'esbuild';
import { onTestFinished } from 'vitest';

/** An empty folder that is gone again once the test has ended. */
export const scratchFolder = async (): Promise<string> => {
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
};

/** Makes a module of TypeScript, its imports told from this folder, into one that a process of its own can run. */
export const bundle = async (code: string, folder: string): Promise<string> => {
  const outfile = join(folder, 'child.mjs');
  await build({
    stdin: { contents: code, resolveDir: import.meta.dirname, loader: 'ts' },
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile,
    logLevel: 'error',
  });
  return outfile;
};

/** A process that is told a line and answers a line. */
export interface Child {
  readonly process: ChildProcess;
  ask(line: string): Promise<string>;
  /** Its exit code, once it has ended. */
  readonly ended: Promise<number | null>;
}

/** Starts a process; it is killed at the end of the test at the latest. */
export const startChild = (file: string, args: readonly string[], command = process.execPath): Child => {
  const child = spawn(command, [file, ...args], { stdio: ['pipe', 'pipe', 'inherit'] });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  child.stdin.on('error', () => undefined);
  onTestFinished(async () => {
    child.kill('SIGKILL');
    await ended;
  });
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const ask = async (line: string): Promise<string> => {
    child.stdin.write(`${line}\n`);
    const answer = await lines.next();
    if (answer.done) throw new Error(`the process ended instead of answering ${line}`);
    return answer.value;
  };
  return { process: child, ask, ended };
};
