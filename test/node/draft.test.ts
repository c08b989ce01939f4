import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Draft, dropDraft, keepDraft, readDraft } from '../../src/node/draft.js';
import { scratchFolder } from './child.js';

const draft: Draft = {
  format: 'bandwright-draft/1',
  makes: 'rig new',
  from: null,
  answers: [{ id: 'title', text: 'Quay "stage" \\ \u001b' }],
};

const codeOf = async (path: string): Promise<string | undefined> => {
  const read = await readDraft(path, 'rig new');
  return read.ok ? undefined : read.error[0]?.code;
};

describe('a draft', () => {
  it('is kept in place of the one before, read again, and dropped', async () => {
    const cwd = await scratchFolder();
    const path = join(cwd, 'show.json.draft');
    expect(await readDraft(path, 'rig new')).toEqual({ ok: true, value: null });
    expect((await keepDraft(path, { ...draft, answers: [] })).ok).toBe(true);
    expect((await keepDraft(path, draft)).ok).toBe(true);
    expect(await readDraft(path, 'rig new')).toEqual({ ok: true, value: draft });
    expect(await readdir(cwd)).toEqual(['show.json.draft']);
    expect((await dropDraft(path)).ok).toBe(true);
    expect((await dropDraft(path)).ok).toBe(true);
    expect(await readdir(cwd)).toEqual([]);
  });

  it.each<[string, string]>([
    ['of something else that is made', JSON.stringify({ ...draft, makes: 'targets new' })],
    ['of another version', JSON.stringify({ ...draft, format: 'bandwright-draft/2' })],
    ['with an answer that is none', JSON.stringify({ ...draft, answers: [{ id: 'title' }] })],
    ['that is cut short', JSON.stringify(draft).slice(0, -3)],
    ['that is nothing of the kind', 'null'],
  ])('%s is refused and left as it is', async (_, content) => {
    const path = join(await scratchFolder(), 'show.json.draft');
    await writeFile(path, content);
    expect(await codeOf(path)).toBe('draft-unfit');
    expect(await readFile(path, 'utf8')).toBe(content);
  });

  it('that cannot be read or kept is told', async () => {
    const path = join(await scratchFolder(), 'show.json.draft');
    await mkdir(path);
    expect(await codeOf(path)).toBe('file-unreadable');
    const kept = await keepDraft(path, draft);
    expect(kept.ok ? undefined : kept.error[0]?.code).toBe('output-is-folder');
  });
});
