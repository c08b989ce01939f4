import { spawn, spawnSync } from 'node:child_process';
import { closeSync, existsSync, openSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { binary, environment, fixture, inFolder, run } from '../run.js';
import { type Rehearsal, rehearse } from './rehearsal.js';

/*
 * Outputs that take no more while a desk is written to: a terminal that is closed (on a pseudo-terminal, as util-linux's
 * `script` gives one; skipped where there is none), a disk that is full (/dev/full, as Linux has it), a reader that is gone.
 */

const hasScript = /util-linux/.test(spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '');
const hasFull = existsSync('/dev/full');

const pushArgs = ({ recipe, port }: Rehearsal, rate: number): readonly string[] => [
  'push',
  recipe,
  ...['--to', `127.0.0.1:${port}`, '--yes', '--accept-names', '--rate', `${rate}`],
];

const writesOf = ({ events }: Rehearsal): number => events.filter(({ event }) => event === 'write').length;

const until = async (isSo: () => boolean | Promise<boolean>): Promise<void> => {
  while (!(await isSo())) await setTimeout(5);
};

/** Its one journal, if there is one, finished; and that it brings back what stood before. */
const expectRestorable = async (rehearsal: Rehearsal, before: unknown) => {
  const [path] = await rehearsal.kept();
  // What is lost at once ends it before anything is written.
  if (path === undefined) {
    expect(rehearsal.snapshot()).toEqual(before);
    return null;
  }
  const journal = JSON.parse(await readFile(path, 'utf8'));
  expect(journal.outcome).not.toBeNull();
  const restored = await rehearsal.command('restore', [path, '--yes', '--json', '--rate', '2000']);
  expect(restored.exitCode, restored.stderr).toBe(0);
  expect(rehearsal.snapshot()).toEqual(before);
  return journal.outcome as {
    readonly result: string;
    readonly mixes: readonly { readonly state: string }[];
  };
};

const rehearsed = async (work: (rehearsal: Rehearsal, folder: string) => Promise<void>): Promise<void> => {
  await inFolder(async (folder) => {
    const rehearsal = await rehearse(folder, { target: 'digits-3', seed: 3 });
    try {
      await work(rehearsal, folder);
    } finally {
      await rehearsal.close();
    }
  });
};

/** Runs a command line on a terminal that is closed at some moment; its exit code, told by the shell that outlives it. */
const closeTerminal = async (
  rehearsal: Rehearsal,
  args: readonly string[],
  folder: string,
  isTime: (screen: string) => boolean,
): Promise<number> => {
  const exitFile = join(folder, 'exit');
  const words = [process.execPath, binary, ...args].map((word) => `'${word}'`).join(' ');
  const command = `trap : HUP; ${words}; echo $? > '${exitFile}'`;
  const terminal = spawn('script', ['--quiet', '--flush', '--command', command, '/dev/null'], {
    env: environment({ BANDWRIGHT_JOURNALS: rehearsal.journals, TERM: 'xterm', SHELL: '/bin/sh' }),
  });
  let screen = '';
  terminal.stdout.on('data', (chunk: Buffer) => {
    screen += chunk.toString('utf8');
  });
  await until(() => isTime(screen));
  terminal.kill('SIGKILL');
  let exit = '';
  await until(async () => {
    exit = await readFile(exitFile, 'utf8').catch(() => '');
    return exit !== '';
  });
  return Number(exit);
};

describe.skipIf(!hasScript)('a terminal that is closed', () => {
  it.concurrent.each([1, 4, 9, 14, 19])(
    'after %i writes: the push comes to a safe end, finishes its journal, and says that its output was lost',
    (writes) =>
      rehearsed(async (rehearsal, folder) => {
        const before = rehearsal.snapshot();
        const isTime = () => writesOf(rehearsal) >= writes;
        expect(await closeTerminal(rehearsal, pushArgs(rehearsal, 200), folder, isTime)).toBe(4);
        const outcome = await expectRestorable(rehearsal, before);
        // All may have been written by the time the signal comes.
        expect(['interrupted', 'done']).toContain(outcome?.result);
        for (const { state } of outcome?.mixes ?? [])
          expect(['applied', 'unchanged', 'untouched', 'put-back']).toContain(state);
      }),
  );

  it('at the question: nothing is written, and no journal stays', () =>
    rehearsed(async (rehearsal, folder) => {
      const args = pushArgs(rehearsal, 200).filter((word) => word !== '--yes');
      const exit = await closeTerminal(rehearsal, args, folder, (screen) => screen.includes('[y/N]'));
      expect([4, 130]).toContain(exit);
      expect(writesOf(rehearsal)).toBe(0);
      expect(await rehearsal.kept()).toEqual([]);
    }));

  it('while a restore writes: it comes to a safe end, and can be done again', () =>
    rehearsed(async (rehearsal, folder) => {
      const before = rehearsal.snapshot();
      await rehearsal.command('push', pushArgs(rehearsal, 2000).slice(1));
      const [journal = ''] = await rehearsal.kept();
      const start = writesOf(rehearsal);
      const args = ['restore', journal, '--yes', '--rate', '200'];
      expect(await closeTerminal(rehearsal, args, folder, () => writesOf(rehearsal) >= start + 5)).toBe(4);
      const again = await rehearsal.command('restore', [journal, '--yes', '--json', '--rate', '2000']);
      expect(again.exitCode, again.stderr).toBe(0);
      expect(rehearsal.snapshot()).toEqual(before);
    }));
});

/** Runs with one output, or both, on a disk that is full or a pipe without a reader; what the others say. */
const runLosing = async (
  args: readonly string[],
  lost: readonly ('stdout' | 'stderr')[],
  env: Readonly<Record<string, string>> = {},
) => {
  const full = openSync('/dev/full', 'w');
  try {
    const stdio = (['stdout', 'stderr'] as const).map((name) => (lost.includes(name) ? full : 'pipe'));
    const child = spawn(process.execPath, [binary, ...args], {
      env: environment(env),
      stdio: ['ignore', ...stdio],
    });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream?.on('data', (chunk: Buffer) => {
        said += chunk.toString('utf8');
      });
    }
    const exitCode = await new Promise<number | null>((resolve) => child.on('close', resolve));
    return { exitCode, said };
  } finally {
    closeSync(full);
  }
};

describe.skipIf(!hasFull)('a disk that is full', () => {
  it.concurrent.each([[['stdout']], [['stderr']], [['stdout', 'stderr']]] as const)(
    'that %j go to: a push ends safely, and says so',
    (lost) =>
      rehearsed(async (rehearsal) => {
        const before = rehearsal.snapshot();
        const env = { BANDWRIGHT_JOURNALS: rehearsal.journals };
        const { exitCode, said } = await runLosing(pushArgs(rehearsal, 400), lost, env);
        expect(exitCode, said).toBe(4);
        expect(said).not.toMatch(/^\s+at |fault of the tool/m);
        if (lost.length === 1 && lost[0] === 'stdout') expect(said).toContain('there is no room left');
        const outcome = await expectRestorable(rehearsal, before);
        expect(outcome === null).toBe(lost.includes('stderr' as never));
        for (const { state } of outcome?.mixes ?? [])
          expect(['applied', 'unchanged', 'untouched', 'put-back']).toContain(state);
      }),
  );

  it.concurrent.each([
    ['recipe', fixture('rig-small.json'), '--target', 'r40'],
    ['recipe', fixture('rig-small.json'), '--target', 'r40', '--json'],
    ['compare', fixture('rig-small.json'), '--targets', 'r40', '--json'],
    ['targets', 'list'],
    ['check', '--target', 'r40'],
    ['--help'],
  ])('that data go to ends "%s %s" with one line and 4', async (...args) => {
    const { exitCode, said } = await runLosing(args, ['stdout']);
    expect(exitCode).toBe(4);
    const told = said.trimEnd().split('\n');
    expect(told.at(-1)).toBe('bandwright: standard output is not whole: there is no room left.');
    expect(said).not.toMatch(/^\s+at |fault of the tool/m);
  });

  it('that messages go to keeps no data back, and ends with 4', async () => {
    const args = ['recipe', fixture('rig-small.json'), '--target', 'r40', '--json'];
    const { exitCode, said } = await runLosing(args, ['stderr']);
    expect(said).toBe((await run(args)).stdout.toString('utf8'));
    expect(exitCode).toBe(4);
  });
});

it('a reader that is gone: a push ends safely, and says that its output was lost', () =>
  rehearsed(async (rehearsal) => {
    const before = rehearsal.snapshot();
    const child = spawn(process.execPath, [binary, ...pushArgs(rehearsal, 400)], {
      env: environment({ BANDWRIGHT_JOURNALS: rehearsal.journals }),
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child.stdout.destroy();
    child.stderr.destroy();
    const exitCode = await new Promise((resolve) => child.on('close', resolve));
    expect(exitCode).toBe(4);
    await expectRestorable(rehearsal, before);
  }));
