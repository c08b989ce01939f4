import { spawn } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { binary, environment, inFolder } from '../run.js';
import { type Rehearsal, rehearse, told } from './rehearsal.js';

/*
 * A push that is killed, at any moment, leaves a journal with everything it found, or has written nothing: the kill
 * is SIGKILL, which no program can do anything about. What stood before is then put back byte for byte.
 */

const seeds = Array.from({ length: Number(process.env.RUNS ?? 36) }, (_, index) => index + 1);

/** Pushes, and kills the push once the desk has met so many messages; tells whether it was still running. */
const pushAndKill = ({ recipe, journals, port, events }: Rehearsal, afterEvents: number): Promise<boolean> =>
  new Promise((resolve, reject) => {
    const to = ['--to', `127.0.0.1:${port}`, '--rate', '1000', '--yes', '--accept-names'];
    const env = environment({ BANDWRIGHT_JOURNALS: journals });
    const push = spawn(process.execPath, [binary, 'push', recipe, ...to], { env, stdio: 'ignore' });
    const watch = setInterval(() => {
      if (events.length >= afterEvents) push.kill('SIGKILL');
    }, 1);
    push.on('error', reject);
    push.on('exit', (_code, signal) => {
      clearInterval(watch);
      resolve(signal === 'SIGKILL');
    });
  });

/** How many messages a desk meets in a whole push, counted on one that is let go on to its end. */
const messagesOfOne = await inFolder(async (folder) => {
  const rehearsal = await rehearse(folder, { target: 'log-179', seed: 1 });
  await pushAndKill(rehearsal, Number.POSITIVE_INFINITY);
  await rehearsal.close();
  return rehearsal.events.length;
});

const moments = { beforeWriting: 0, whileWriting: 0, afterwards: 0 };

describe('a push that is killed', () => {
  it.concurrent.each(seeds)('leaves what restore needs, seed %i', async (seed) => {
    await inFolder(async (folder) => {
      const rehearsal = await rehearse(folder, { target: 'log-179', seed });
      try {
        const before = JSON.stringify(rehearsal.snapshot());
        // Spread over the whole push by the golden ratio: even, and in step with nothing.
        const wasKilled = await pushAndKill(rehearsal, 1 + ((seed * 0.618034) % 1) * messagesOfOne);
        const hasChanged = JSON.stringify(rehearsal.snapshot()) !== before;
        const wrote = rehearsal.events.some(({ event }) => event === 'write');
        moments[!wasKilled ? 'afterwards' : wrote ? 'whileWriting' : 'beforeWriting']++;

        const [journal] = await rehearsal.kept();
        if (journal === undefined) {
          expect(hasChanged).toBe(false);
          return;
        }
        const args = [journal, '--yes', '--json', '--rate', '2000'];
        const restored = await rehearsal.command('restore', args);
        expect(restored.exitCode, restored.stderr).toBe(0);
        expect(JSON.stringify(rehearsal.snapshot())).toBe(before);

        if (seed % 4 > 0) return;
        const writes = () => rehearsal.events.filter(({ event }) => event === 'write').length;
        const written = writes();
        const again = await rehearsal.command('restore', args);
        expect(again.exitCode, again.stderr).toBe(0);
        expect(told(again).mixes.every(({ state }) => state === 'unchanged')).toBe(true);
        expect(writes()).toBe(written);
      } finally {
        await rehearsal.close();
      }
    });
  });

  it('was met before and while it wrote, often enough to tell', () => {
    expect(moments.beforeWriting).toBeGreaterThan(0);
    expect(moments.whileWriting).toBeGreaterThan(seeds.length / 3);
  });
});
