import { type ChildProcess, spawn } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import { blankDraft } from '../../live/learn/blank-draft.js';
import { binary, environment, inFolder, type Run } from '../run.js';
import { learnTold } from './learn-told.js';
import { type Rehearsal, rehearse } from './rehearsal.js';

/*
 * Learning that is killed, at any moment, leaves a journal with everything it found, or has written nothing: the kill is
 * SIGKILL, which no program can do anything about. What stood before is then put back byte for byte.
 */

const seeds = Array.from({ length: Number(process.env.RUNS ?? 30) }, (_, index) => index + 1);
const output = 5;

const targetFor = (seed: number): string => ['log-179', 'octave-6', 'r40'][seed % 3] ?? 'log-179';

const kinds: Readonly<Record<string, 'udp' | 'tcp-slip' | 'tcp-length-prefix'>> = {
  'log-179': 'udp',
  'octave-6': 'tcp-length-prefix',
  r40: 'tcp-slip',
};

const rehearseLearning = async (folder: string, target: string, seed: number) => {
  const rehearsal = await rehearse(folder, { target, seed, kind: kinds[target] ?? 'udp' });
  const draft = join(folder, 'draft.json');
  await writeFile(draft, writeJson(blankDraft(rehearsal.desk.target)));
  return { ...rehearsal, draft };
};

/** Learns, and does something to it once the desk has met so many messages. */
const learnUntil = (
  { journals, port, events, draft, desk }: Rehearsal & { readonly draft: string },
  afterEvents: number,
  act: (child: ChildProcess) => void,
): Promise<Run & { readonly signal: string | null }> =>
  new Promise((resolve, reject) => {
    const kind = kinds[desk.target.id] ?? 'udp';
    const to = ['--to', `127.0.0.1:${port}`, '--transport', kind, '--rate', '2000', '--yes', '--json'];
    const args = ['learn', '--target', draft, '--output', String(output), ...to];
    const env = environment({ BANDWRIGHT_JOURNALS: journals });
    const child = spawn(process.execPath, [binary, ...args], { env, stdio: 'pipe' });
    const [out, err]: [Buffer[], Buffer[]] = [[], []];
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => err.push(chunk));
    let hasActed = false;
    const watch = setInterval(() => {
      if (hasActed || events.length < afterEvents) return;
      hasActed = true;
      act(child);
    }, 1);
    child.on('error', reject);
    child.on('close', (exitCode, signal) => {
      clearInterval(watch);
      const stderr = Buffer.concat(err).toString('utf8');
      resolve({ exitCode, signal, stdout: Buffer.concat(out), stderr });
    });
  });

/** About how many messages a desk meets in all of it; a kill that comes too late is one that finds nothing to kill. */
const messagesOf: Readonly<Record<string, number>> = { 'log-179': 280, 'octave-6': 150, r40: 330 };

const moments = { beforeWriting: 0, whileWriting: 0, afterwards: 0 };

describe('learning that is killed', () => {
  it.concurrent.each(seeds)('leaves what restore needs, seed %i', async (seed) => {
    await inFolder(async (folder) => {
      const target = targetFor(seed);
      const rehearsal = await rehearseLearning(folder, target, seed);
      try {
        const before = JSON.stringify(rehearsal.snapshot());
        // Spread over the whole of it by the golden ratio: even, and in step with nothing.
        const moment = 1 + ((seed * 0.618034) % 1) * (messagesOf[target] ?? 0);
        const { signal } = await learnUntil(rehearsal, moment, (child) => child.kill('SIGKILL'));
        const wrote = rehearsal.events.some(({ event }) => event === 'write');
        moments[signal !== 'SIGKILL' ? 'afterwards' : wrote ? 'whileWriting' : 'beforeWriting']++;
        const [journal] = await rehearsal.kept();
        if (journal === undefined) {
          expect(JSON.stringify(rehearsal.snapshot())).toBe(before);
          return;
        }
        // Every second one is found as the last that was not put back, the others are named.
        const which = seed % 2 === 0 && signal === 'SIGKILL' ? '--last' : journal;
        const restored = await rehearsal.command('restore', [which, '--yes', '--json', '--rate', '5000']);
        expect(restored.exitCode, restored.stderr).toBe(0);
        expect(JSON.stringify(rehearsal.snapshot())).toBe(before);
      } finally {
        await rehearsal.close();
      }
    });
  });

  it('was met before and while it wrote, often enough to tell', () => {
    expect(moments.beforeWriting + moments.afterwards).toBeLessThan(seeds.length / 2);
    expect(moments.whileWriting).toBeGreaterThan(seeds.length / 2);
  });
});

describe('learning that is broken off', () => {
  it.concurrent.each([60, 130, 220])(
    'puts back what it found on Ctrl-C after %i messages',
    async (moment) => {
      await inFolder(async (folder) => {
        const rehearsal = await rehearseLearning(folder, 'log-179', moment);
        try {
          const before = JSON.stringify(rehearsal.snapshot());
          const run = await learnUntil(rehearsal, moment, (child) => child.kill('SIGINT'));
          const told = learnTold(run);
          expect([run.exitCode, told.result, told.mix?.state], run.stderr).toEqual([
            130,
            'interrupted',
            'put-back',
          ]);
          expect(JSON.stringify(rehearsal.snapshot())).toBe(before);
        } finally {
          await rehearsal.close();
        }
      });
    },
  );

  it('tells that the desk was lost, and how what it found is put back', async () => {
    await inFolder(async (folder) => {
      const rehearsal = await rehearseLearning(folder, 'log-179', 3);
      const run = await learnUntil(rehearsal, 100, () => void rehearsal.close());
      const told = learnTold(run);
      expect([run.exitCode, told.result, told.mix?.state], run.stderr).toEqual([4, 'desk-lost', 'unknown']);
      expect(run.stderr).toContain(`bandwright restore ${told.journal}`);
    });
  });
});
