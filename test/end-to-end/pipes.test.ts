import { execFileSync, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { binary, environment, fixture, run, runProgram, scratchFolder } from './run.js';

const hasPipes = process.platform !== 'win32' && existsSync('/dev/fd');
const plain = ['--target', 'log-179', '--fit', 'nearest'];

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
    await setTimeout(1500);
    child.kill('SIGINT');
    expect(await ended).toBe(130);
  });
});
