import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runJournals } from '../../src/cli/journals/journals.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { sampleText } from '../documents/samples.js';
import { type Captured, captured } from './captured.js';

/** What the command prints on a terminal of a width. */
const told = (folder: string, columns: number, json = false): Promise<Captured> =>
  captured((terminal) => runJournals({ journalFolder: folder, json }, terminal), { columns });

const folderWith = async (files: Readonly<Record<string, string>>): Promise<string> => {
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text);
  return folder;
};

const many = Array.from({ length: 12 }, (_, index) => ({
  name: `Mix ${index + 1} of the choir`,
  outputs: [index + 1],
  slots: [],
}));

const ended = (startedAt: string, result: string): string =>
  sampleText('journal', { startedAt, 'outcome.result': result });

const files = {
  'a.json': ended('2026-11-25T12:30:00Z', 'done'),
  'b.json': ended('2026-11-25T12:31:00Z', 'falls-short'),
  'c.json': ended('2026-11-25T12:32:00Z', 'interrupted'),
  'd.json': ended('2026-11-25T12:33:00Z', 'desk-lost'),
  'e.json': sampleText('journal', {
    startedAt: '2026-11-25T12:34:00Z',
    purpose: 'restore',
    title: 'An evening with a rather long name on the pier beside the old lighthouse',
    mixes: many,
    outcome: null,
    'desk.host': '2001:db8:0:0:0:0:0:7',
  }),
  'broken.json': '{ "format": "bandwright-journal/1" ',
};

const inOrder = (text: string, parts: readonly string[]): readonly number[] =>
  parts.map((part) => text.indexOf(part));

describe('journals', () => {
  it.each([60, 80, 100, 119, 132])(
    'are listed on %i columns, newest first, with how each ended',
    async (columns) => {
      const folder = await folderWith(files);
      const { out, exitCode } = await told(folder, columns);
      expect(exitCode).toBe(0);
      const parts = ['not ended', 'desk lost', 'interrupted', 'fell short', 'done', 'cannot be read'];
      const positions = inOrder(out, parts);
      expect(Math.min(...positions)).toBeGreaterThanOrEqual(0);
      expect(positions).toEqual(positions.toSorted((a, b) => a - b));
      const lines = out.split('\n');
      for (const name of Object.keys(files)) expect(lines).toContain(`  ${join(folder, name)}`);
      const tooWide = lines.filter((line) => displayWidth(line) > columns && !line.startsWith(`  ${folder}`));
      expect(tooWide).toEqual([]);
      const words = out.replace(/\s+/g, ' ');
      for (const part of [
        '2026-11-25 12:34:00',
        'UTC',
        '192.0.2.7:9000',
        'sample',
        'restore',
        'killed half-way',
      ]) {
        expect(words).toContain(part);
      }
      expect(words).toContain('before this "{" is closed');
    },
  );

  it.each([60, 132])('tell when they began by the clock here and in UTC, on %i columns', async (columns) => {
    // India is 5 h 30 min ahead of UTC all year (IANA time zone database, Asia/Kolkata).
    const zone = process.env.TZ;
    process.env.TZ = 'Asia/Kolkata';
    onTestFinished(() => {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    });
    const late = ended('2026-11-25T21:30:00Z', 'done');
    const { out } = await told(await folderWith({ 'a.json': late }), columns);
    expect(out).toContain('2026-11-26 03:00:00');
    expect(out).toContain('2026-11-25 21:30:00');
    expect(JSON.parse((await told(await folderWith({ 'a.json': late }), columns, true)).out)).toMatchObject({
      journals: [{ startedAt: '2026-11-25T21:30:00Z' }],
    });
  });

  it('are told to programs whole, those that cannot be read too', async () => {
    const folder = await folderWith(files);
    const { out, err, exitCode } = await told(folder, 80, true);
    expect([err, exitCode]).toEqual(['', 0]);
    const { folder: where, journals } = JSON.parse(out);
    expect(where).toBe(folder);
    expect(journals).toHaveLength(6);
    expect(journals[0]).toMatchObject({ path: join(folder, 'e.json'), purpose: 'restore', outcome: null });
    expect(journals[5]).toMatchObject({ problems: [{ code: 'json-syntax' }] });
  });

  it('that are none are said to be none, and where', async () => {
    const folder = join(await folderWith({}), 'never-made');
    expect(await told(folder, 80)).toEqual({
      out: `There are no journals in ${folder}.\n`,
      err: '',
      doing: [],
      exitCode: 0,
    });
    expect(JSON.parse((await told(folder, 80, true)).out)).toEqual({ folder, journals: [] });
  });

  it('in what is no folder are a file that could not be read', async () => {
    const folder = await folderWith({ file: '' });
    const { out, err, exitCode } = await told(join(folder, 'file'), 200);
    expect([out, exitCode]).toEqual(['', 4]);
    expect(err).toContain('[file-unreadable]');
  });

  it('reach no terminal that would obey what their files are called', async () => {
    const folder = await folderWith({ 'a\u001b[2J.json': '' });
    const { out } = await told(folder, 80);
    expect(out).toContain('a\\u{1b}[2J.json');
    expect(out).not.toContain('\u001b');
  });
});
