import { createHash } from 'node:crypto';
import { readdir, readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { readJournal } from '../../../src/documents/read.js';
import { type JournalFile, openJournalFile } from '../../../src/node/journals/journal-file.js';
import { removeUnfinished } from '../../../src/node/unfinished.js';
import { bundle, scratchFolder, startChild } from '../child.js';
import { journal } from './journal.js';

const facts = { startedAt: '2026-11-25T12:30:00.250Z', targetId: 'cut-section', purpose: 'push' } as const;
const name = '2026-11-25T12-30-00Z-push-cut-section';

const opened = async (folder: string): Promise<JournalFile> => {
  const file = await openJournalFile(folder, facts);
  if (!file.ok) throw new Error(file.error.map(({ message }) => message).join('\n'));
  return file.value;
};

const modeOf = async (path: string): Promise<number> => (await stat(path)).mode & 0o777;

describe('a journal file', () => {
  it('is there before anything is stored, and holds what was stored last', async () => {
    const folder = join(await scratchFolder(), 'state', 'bandwright');
    const file = await opened(folder);
    expect(file.place).toBe(join(folder, `${name}.json`));
    expect(await readFile(file.place, 'utf8')).toBe('');
    for (const outcome of [null, (await journal()).outcome]) {
      const stored = await journal({ outcome });
      expect(await file.store(stored)).toEqual({ ok: true, value: undefined });
      const text = await readFile(file.place, 'utf8');
      const [whole, digest] = /,\n {2}"digest": "([0-9a-f]{64})"/.exec(text) ?? [];
      const rest = text.replace(whole ?? '', '');
      // RFC 8785: keys sorted, no blanks. A list of keys makes JSON.stringify write them in its order.
      const keys = [...rest.matchAll(/"([^"\\]+)": /g)].map(([, key = '']) => key).sort();
      const canonical = JSON.stringify(JSON.parse(rest), [...new Set(keys)]);
      expect(digest).toBe(createHash('sha256').update(canonical).digest('hex'));
      expect(readJournal(rest, { source: 'x' })).toEqual({ ok: true, value: stored });
      expect(readJournal(text, { source: 'x' })).toEqual({ ok: true, value: { ...stored, digest } });
      expect(await readdir(folder)).toEqual([`${name}.json`]);
    }
  });

  it.skipIf(process.platform === 'win32')('is for its owner only, and so is its folder', async () => {
    const folder = join(await scratchFolder(), 'state', 'bandwright');
    const file = await opened(folder);
    expect(await modeOf(file.place)).toBe(0o600);
    await file.store(await journal());
    expect(await modeOf(file.place)).toBe(0o600);
    expect(await modeOf(folder)).toBe(0o700);
    expect(await modeOf(join(folder, '..'))).toBe(0o700);
  });

  it('never takes the place of another', async () => {
    const folder = await scratchFolder();
    await writeFile(join(folder, `${name}.json`), 'mine');
    const files = await Promise.all([opened(folder), opened(folder), opened(folder)]);
    const expected = [`${name}-2.json`, `${name}-3.json`, `${name}-4.json`];
    expect(files.map(({ place }) => place).sort()).toEqual(expected.map((each) => join(folder, each)));
    expect(await readFile(join(folder, `${name}.json`), 'utf8')).toBe('mine');
  });

  it('holds the last of several stored at once', async () => {
    const file = await opened(await scratchFolder());
    const titles = ['a', 'b', 'c', 'd'];
    const journals = await Promise.all(titles.map((title) => journal({ title })));
    const done = await Promise.all(journals.map((each) => file.store(each)));
    expect(done.map(({ ok }) => ok)).toEqual([true, true, true, true]);
    expect(JSON.parse(await readFile(file.place, 'utf8'))).toMatchObject({ title: 'd' });
  });

  it('goes when it is discarded empty, and stays once something is stored', async () => {
    const folder = await scratchFolder();
    const [empty, kept] = [await opened(folder), await opened(folder)];
    await kept.store(await journal());
    await empty.discard();
    await empty.discard();
    await kept.discard();
    expect(await readdir(folder)).toEqual([`${name}-2.json`]);
  });

  it('goes with the program when nothing was stored', async () => {
    const folder = await scratchFolder();
    // What other tests left open is not of this one.
    removeUnfinished();
    await opened(folder);
    const kept = await opened(folder);
    await kept.store(await journal());
    expect(removeUnfinished()).toBe(1);
    expect(await readdir(folder)).toEqual([`${name}-2.json`]);
  });
});

describe('what cannot be kept', () => {
  it('is told before anything is sent where the folder cannot be made', async () => {
    const folder = await scratchFolder();
    await writeFile(join(folder, 'file'), '');
    const outcome = await openJournalFile(join(folder, 'file', 'journals'), facts);
    expect(outcome).toMatchObject({ ok: false, error: [{ code: 'journal-unwritable' }] });
    const message = outcome.ok ? '' : outcome.error[0]?.message;
    expect(message).toContain('part of its path is not a folder');
    expect(message).toContain('journalFolder or BANDWRIGHT_JOURNALS');
  });

  it('is a journal that could not be read again', async () => {
    const folder = await scratchFolder();
    const file = await opened(folder);
    const good = await journal();
    const [mix] = good.mixes;
    const [slot] = mix?.slots ?? [];
    const [value] = slot?.found ?? [];
    if (!mix || !slot || !value) throw new Error('the sample holds too little');
    const strange = { ...value, argument: { type: 'i', number: Number.POSITIVE_INFINITY } } as const;
    const bad = { ...good, mixes: [{ ...mix, slots: [{ ...slot, found: [strange] }] }] };
    expect(await file.store(bad)).toMatchObject({
      ok: false,
      error: [
        { code: 'journal-unfit', message: expect.stringContaining('mixes[0].slots[0].found[0].argument') },
      ],
    });
    expect(await readFile(file.place, 'utf8')).toBe('');
    await file.store(good);
    expect((await file.store(bad)).ok).toBe(false);
    expect(readJournal(await readFile(file.place), { source: 'x' })).toMatchObject({ ok: true, value: good });
  });
});

const prelude = `
import { readFileSync } from 'node:fs';
import { openJournalFile } from '../../src/node/journals/journal-file.ts';

const [folder, sample] = process.argv.slice(2);
const journal = JSON.parse(readFileSync(sample, 'utf8'));
const file = await openJournalFile(folder, ${JSON.stringify(facts)});
`;

const sampleFile = async (folder: string): Promise<string> => {
  const path = join(folder, 'sample');
  await writeFile(path, JSON.stringify(await journal()));
  return path;
};

describe('whatever happens while a journal is stored', () => {
  it('leaves a whole one when the process is killed', async () => {
    const scratch = await scratchFolder();
    const sample = await sampleFile(scratch);
    const child = `${prelude}
await file.value.store({ ...journal, title: 'short' });
console.log('stored');
for (;;) {
  for (const title of ['x'.repeat(200), 'short']) await file.value.store({ ...journal, title });
}`;
    const program = await bundle(child, scratch);
    const seen = new Set<string>();
    for (let round = 0; round < 12; round++) {
      const folder = join(scratch, String(round));
      const { process: killed, ask, ended } = startChild(program, [folder, sample]);
      expect(await ask('')).toBe('stored');
      await wait(2 * round);
      killed.kill('SIGKILL');
      await ended;
      const read = readJournal(await readFile(join(folder, `${name}.json`)), { source: 'x' });
      expect(read.ok).toBe(true);
      if (read.ok) seen.add(read.value.title);
    }
    expect([...seen].every((title) => title === 'short' || title === 'x'.repeat(200))).toBe(true);
  });

  // A limit on the size of files is what a full disk is to a program, and needs no disk to be filled.
  it.runIf(process.platform === 'linux')('leaves the last whole one when the disk is full', async () => {
    const scratch = await scratchFolder();
    const folder = join(scratch, 'journals');
    const sample = await sampleFile(scratch);
    const child = `${prelude}
const small = await file.value.store(journal);
const mixes = Array.from({ length: 16 }, (_, at) => ({ name: String(at).repeat(99), outputs: [at + 1], slots: [] }));
const large = await file.value.store({ ...journal, mixes, title: 'large' });
console.log(JSON.stringify([small, large]));`;
    const program = await bundle(child, scratch);
    // Blocks of 512 or 1024 bytes, as the shell has it: room for the one, not for the other.
    const { size } = await stat(sample);
    expect(size).toBeLessThan(3000);
    const script = join(scratch, 'limited.sh');
    await writeFile(script, `trap '' XFSZ\nulimit -f 8\nexec "$@"\n`);
    const { ask } = startChild(script, [process.execPath, program, folder, sample], 'sh');
    const [small, large] = JSON.parse(await ask('')) as readonly [unknown, unknown];
    expect(small).toMatchObject({ ok: true });
    expect(large).toMatchObject({
      ok: false,
      error: [{ code: 'journal-unwritable', message: expect.stringContaining('EFBIG') }],
    });
    expect(large).toMatchObject({ error: [{ message: expect.stringContaining('still whole') }] });
    expect(await readdir(folder)).toEqual([`${name}.json`]);
    const read = readJournal(await readFile(join(folder, `${name}.json`)), { source: 'x' });
    expect(read).toMatchObject({ ok: true, value: { title: 'Sample' } });
  });
});
