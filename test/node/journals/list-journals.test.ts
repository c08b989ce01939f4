import { execFileSync } from 'node:child_process';
import { mkdir, symlink, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { expect, it } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import { writeXml } from '../../../src/documents/write-xml.js';
import { listJournals } from '../../../src/node/journals/list-journals.js';
import { sampleText } from '../../documents/samples.js';
import { scratchFolder } from '../child.js';
import { journal } from './journal.js';

const listedIn = async (folder: string) => {
  const listed = await listJournals(folder);
  if (!listed.ok) throw new Error(listed.error.map(({ message }) => message).join('\n'));
  return listed.value;
};

const at = (startedAt: string, outcome: unknown = null) => journal({ startedAt, outcome });

it('lists what each journal says of itself', async () => {
  const folder = await scratchFolder();
  await writeFile(join(folder, 'one.json'), writeJson(await journal()));
  expect(await listedIn(folder)).toEqual([
    {
      path: join(folder, 'one.json'),
      startedAt: '2026-11-25T12:30:00.250Z',
      purpose: 'push',
      title: 'Sample',
      desk: { transport: 'udp', host: '192.0.2.7', port: 9000 },
      target: 'sample',
      mixes: ['One', 'Two'],
      outcome: (await journal()).outcome,
    },
  ]);
});

it('lists the newest first, JSON and XML alike, and those that cannot be read with why', async () => {
  const folder = await scratchFolder();
  const write = (name: string, text: string | Uint8Array) => writeFile(join(folder, name), text);
  await write('a.json', writeJson(await at('2026-11-25T12:30:00Z')));
  await write('b.json', writeJson(await at('2026-11-25T12:30:00.500Z')));
  await write('c.xml', writeXml(await at('2026-11-26T08:00:00Z')));
  await write('same-2.json', writeJson(await at('2026-11-20T08:00:00Z')));
  await write('same-10.json', writeJson(await at('2026-11-20T08:00:00Z')));
  await write('2026-11-25T20-00-00Z-push-r40.json', '');
  await write('recipe.json', sampleText('recipe'));
  await write('notes.txt', 'none of ours');
  await write('.a.json.17.part', 'half of');
  await mkdir(join(folder, 'folder.json'));
  await symlink(join(folder, 'gone'), join(folder, 'link.json'));
  const listed = await listedIn(folder);
  expect(
    listed.map((each) => [basename(each.path), 'problems' in each ? each.problems[0]?.code : 'read']),
  ).toEqual([
    ['c.xml', 'read'],
    ['2026-11-25T20-00-00Z-push-r40.json', 'journal-empty'],
    ['b.json', 'read'],
    ['a.json', 'read'],
    ['same-10.json', 'read'],
    ['same-2.json', 'read'],
    ['recipe.json', 'wrong-format'],
    ['link.json', 'file-unreadable'],
    ['folder.json', 'file-unreadable'],
  ]);
});

it.skipIf(process.platform === 'win32')('does not wait for a pipe', async () => {
  const folder = await scratchFolder();
  execFileSync('mkfifo', [join(folder, 'pipe.json')]);
  expect(await listedIn(folder)).toMatchObject([{ problems: [{ code: 'file-unreadable' }] }]);
});

it('finds none where there is no folder, and says where there is no looking', async () => {
  const folder = await scratchFolder();
  expect(await listedIn(join(folder, 'never', 'made'))).toEqual([]);
  await writeFile(join(folder, 'file'), '');
  expect(await listJournals(join(folder, 'file'))).toMatchObject({
    ok: false,
    error: [{ code: 'file-unreadable', source: join(folder, 'file') }],
  });
});
