import { spawn } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { binary, environment, inFolder, type Run } from '../run.js';
import { lies, type Rehearsal, rehearse, told } from './rehearsal.js';

/** Pushes, and sends signals once the desk has met so many writes. */
const pushAndInterrupt = (
  { recipe, journals, port, events }: Rehearsal,
  afterWrites: number,
  signals: readonly NodeJS.Signals[],
): Promise<Run> =>
  new Promise((resolve, reject) => {
    const to = ['--to', `127.0.0.1:${port}`, '--rate', '400', '--yes', '--accept-names', '--json'];
    const env = environment({ BANDWRIGHT_JOURNALS: journals });
    const push = spawn(process.execPath, [binary, 'push', recipe, ...to], { env });
    const [out, err]: [Buffer[], Buffer[]] = [[], []];
    push.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    push.stderr.on('data', (chunk: Buffer) => err.push(chunk));
    let sent = 0;
    const watch = setInterval(() => {
      const writes = events.filter(({ event }) => event === 'write').length;
      // One at a time: two that come together are one to a program.
      const isHeard = sent === 0 || Buffer.concat(err).includes('Interrupted: coming');
      const signal = signals[sent];
      if (writes < afterWrites || signal === undefined || !isHeard) return;
      sent++;
      push.kill(signal);
    }, 2);
    push.on('error', reject);
    push.on('close', (exitCode) => {
      clearInterval(watch);
      resolve({ exitCode, stdout: Buffer.concat(out), stderr: Buffer.concat(err).toString('utf8') });
    });
  });

const lastLine = (text: string): string => text.trimEnd().split('\n').at(-1) ?? '';

describe('a push that is interrupted', () => {
  it.concurrent.each([1, 3, 6, 9, 12, 15, 18, 21])(
    'after %i writes comes to a state that it describes, and from which all of it can be put back',
    async (writes) => {
      await inFolder(async (folder) => {
        const rehearsal = await rehearse(folder, { target: 'digits-3', seed: writes });
        try {
          const before = rehearsal.snapshot();
          const run = await pushAndInterrupt(rehearsal, writes, ['SIGINT']);
          const report = told(run);
          expect(run.exitCode, run.stderr).toBe(130);
          expect(report.result).toBe('interrupted');
          // Half a mix is left to nobody: every mix is as it was, or as the recipe has it.
          for (const { state } of report.mixes) {
            expect(['applied', 'unchanged', 'untouched', 'put-back']).toContain(state);
          }
          expect(lies(report, before, rehearsal.snapshot(), rehearsal.desk)).toEqual([]);
          expect(run.stderr).toMatch(/^Interrupted: (of )?2 mixes /m);
          expect(lastLine(run.stderr)).toContain(report.journal);

          const args = [report.journal ?? '', '--yes', '--json', '--rate', '2000'];
          const restored = await rehearsal.command('restore', args);
          expect(restored.exitCode, restored.stderr).toBe(0);
          expect(rehearsal.snapshot()).toEqual(before);
        } finally {
          await rehearsal.close();
        }
      });
    },
  );

  it('twice stops where it is, and tells exactly where that is', async () => {
    await inFolder(async (folder) => {
      const rehearsal = await rehearse(folder, { target: 'digits-3', seed: 2, faults: ['delay=40..60'] });
      try {
        const before = rehearsal.snapshot();
        const run = await pushAndInterrupt(rehearsal, 6, ['SIGINT', 'SIGINT']);
        const report = told(run);
        expect(run.exitCode, run.stderr).toBe(130);
        expect(lies(report, before, rehearsal.snapshot(), rehearsal.desk)).toEqual([]);
        expect(report.mixes[0]?.state).toBe('unknown');
        expect(report.mixes[1]?.state).toBe('untouched');
      } finally {
        await rehearsal.close();
      }
    });
  });
});
