import { access } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { learn } from '../../../src/node/desk/learn.js';
import { listJournals } from '../../../src/node/journals/list-journals.js';
import { loadDesk } from '../../../src/node/targets.js';
import { inFolder } from '../run.js';
import { all, learnFrom, nearest, output, start, summary } from './learn-from-other.js';
import { startOtherDesk } from './other-desk.js';

/* What a desk may answer that no knob can stand at, and a bug of ours: the output is put back whatever comes (learnFrom holds that). */

describe('learning from answers that are no value of a knob', () => {
  const others = { q: all.q, gain: all.gain };

  it('0 below the bottom of a frequency: that stays open, the others are learned', async () => {
    const peculiar = () => ({
      snap: (address: string, value: number) =>
        address.endsWith('/frequency') && value < 26 ? 0 : nearest(address, value),
    });
    await learnFrom({ desk: 'zero below', peculiar }, ({ told, run }) => {
      expect(summary(told)).toEqual({
        ...others,
        frequency: expect.stringContaining('no value that such a knob'),
      });
      expect([run.exitCode, told.mix?.state]).toEqual([1, 'put-back']);
    });
  });

  it('a frequency that stands at 0: the same', async () => {
    const standing = new Map([[`/mix/${output}/filter/1/frequency`, 0]]);
    const peculiar = () => ({
      snap: (address: string, value: number) => (value === 0 ? 0 : nearest(address, value)),
    });
    await learnFrom({ desk: 'stands at zero', standing, peculiar }, ({ told, run }) => {
      expect(summary(told)).toEqual({
        ...others,
        frequency: expect.stringContaining('no value that such a knob'),
      });
      expect([run.exitCode, told.mix?.state]).toEqual([1, 'put-back']);
    });
  });

  it('tells of a draft that is learned in part, and of one that is not written', async () => {
    await inFolder(async (folder) => {
      const flags = ['--yes', '--output-file', join(folder, 'learned.json')];
      const standing = new Map([[`/mix/${output}/filter/1/frequency`, 0]]);
      const zero = () => ({
        snap: (address: string, value: number) => (value === 0 ? 0 : nearest(address, value)),
      });
      await learnFrom({ desk: 'in part', flags, standing, peculiar: zero }, ({ run }) => {
        expect(run.stderr).toContain('learned in part: it keeps its own frequency.');
      });
      const stuck = () => ({
        snap: (address: string, value: number) => (address.endsWith('/on') ? 1 : nearest(address, value)),
      });
      const on = new Map(['1', '2', '3', '4'].map((slot) => [`/mix/${output}/filter/${slot}/on`, 1]));
      const elsewhere = ['--yes', '--output-file', join(folder, 'nothing.json')];
      await learnFrom(
        { desk: 'nothing', flags: elsewhere, standing: on, peculiar: stuck },
        async ({ run }) => {
          expect(run.stderr).toContain('Nothing was learned, so');
          await expect(access(join(folder, 'nothing.json'))).rejects.toThrow();
        },
      );
    });
  });

  it('a bug in what recognises grids: all is put back and kept in the journal before it is thrown on', async () => {
    await inFolder(async (folder) => {
      const desk = await loadDesk('log-179', []);
      if (!desk.ok) throw new Error('log-179 cannot be read');
      const other = await startOtherDesk(start, { snap: nearest });
      try {
        const learning = learn({
          desk: desk.value,
          output,
          to: `127.0.0.1:${other.port}`,
          ratePerSecond: 20_000,
          journalFolder: join(folder, 'journals'),
          recognise: () => {
            throw new Error('a bug of ours');
          },
          agree: async () => true,
        });
        await expect(learning).rejects.toThrow('a bug of ours');
        expect(other.writes.length).toBeGreaterThan(3);
        expect([...other.state]).toEqual([...start]);
        const journals = await listJournals(join(folder, 'journals'));
        expect(journals.ok && journals.value).toMatchObject([
          { outcome: { mixes: [{ state: 'put-back' }] } },
        ]);
      } finally {
        other.close();
      }
    });
  });
});
