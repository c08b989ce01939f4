import { execFileSync, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { binary, environment, fixture, run, runProgram, scratchFolder } from './run.js';

const hasPipes = existsSync('/proc/self/fd');
const plain = ['--target', 'log-179', '--fit', 'nearest'];

/** Waits until a program minds how it is ended, as Linux tells: it is the first to take the first signal, SIGHUP. */
const handlesInterrupts = async (pid: number | undefined): Promise<void> => {
  for (;;) {
    const status = await readFile(`/proc/${pid}/status`, 'utf8');
    const caught = BigInt(`0x${/^SigCgt:\s*([0-9a-f]+)$/m.exec(status)?.[1] ?? '0'}`);
    if ((caught & 1n) !== 0n && status.startsWith('Name:\tnode')) return;
    await setTimeout(20);
  }
};

describe.skipIf(!hasPipes)('an input that is no file', () => {
  it('of a name is refused, for nothing would end the waiting', async () => {
    const pipe = join(await scratchFolder(), 'pipe');
    execFileSync('mkfifo', [pipe]);
    const { exitCode, stderr } = await run(['recipe', pipe, ...plain]);
    expect(exitCode).toBe(4);
    expect(stderr.replace(/\s+/g, ' ')).toContain('it is no file but a pipe');
  });

  it('that a shell hands over is read', async () => {
    const rig = fixture('rig-small.json');
    const command = [process.execPath, binary, 'recipe', '/dev/fd/3', ...plain, '--json'].join(' ');
    const { stdout } = await runProgram('sh', ['-c', `cat '${rig}' | ${command} 3<&0`]);
    expect(stdout.equals((await run(['recipe', rig, ...plain, '--json'])).stdout)).toBe(true);
  });

  it('that never ends ends with Ctrl-C', async () => {
    const child = spawn(process.execPath, [binary, 'recipe', '-', ...plain], {
      env: environment(),
      stdio: ['pipe', 'ignore', 'ignore'],
    });
    const ended = new Promise((resolve) => child.on('close', resolve));
    await handlesInterrupts(child.pid);
    child.kill('SIGINT');
    expect(await ended).toBe(130);
  });

  it('that a shell hands over and never ends, does too', async () => {
    // A pipe of the shell's own; Node.js gives its children sockets.
    const command = `exec 3< <(sleep 60); exec '${process.execPath}' '${binary}' recipe /dev/fd/3 ${plain.join(' ')}`;
    const child = spawn('bash', ['-c', command], { env: environment(), stdio: 'ignore', detached: true });
    const ended = new Promise((resolve) => child.on('exit', resolve));
    await handlesInterrupts(child.pid);
    const asked = Date.now();
    child.kill('SIGINT');
    expect(await ended).toBe(130);
    // Not once the sixty seconds are over.
    expect(Date.now() - asked).toBeLessThan(30_000);
    process.kill(-(child.pid ?? 0), 'SIGKILL');
  });
});
