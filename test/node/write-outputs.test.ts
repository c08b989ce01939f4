import { readdir, readFile, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openOutput, writeOutputs } from '../../src/node/write-outputs.js';
import { scratchFolder } from './child.js';

const opened = async (path: string, overwrite: boolean) => {
  const output = await openOutput(path, { inputs: [], overwrite });
  if (!output.ok) throw new Error(JSON.stringify(output.error));
  return output.value;
};

it.each([
  { overwrite: false, ends: 'mine' },
  { overwrite: true, ends: 'ours' },
])(
  'a file that appears while it is made is replaced only where that is told: $overwrite',
  async ({ overwrite, ends }) => {
    const folder = await scratchFolder();
    const path = join(folder, 'recipe.txt');
    const pending = await opened(path, overwrite);
    await writeFile(path, 'mine');
    const written = await writeOutputs([{ pending, content: 'ours' }]);
    expect(written.ok).toBe(overwrite);
    if (!written.ok) expect(written.error[0]).toMatchObject({ code: 'output-exists', source: path });
    expect(await readFile(path, 'utf8')).toBe(ends);
    expect(await readdir(folder)).toEqual(['recipe.txt']);
  },
);

it.skipIf(process.platform === 'win32')(
  'a link that leads nowhere is told of as a file that is there, before any work',
  async () => {
    const folder = await scratchFolder();
    const path = join(folder, 'link.txt');
    await symlink(join(folder, 'gone.txt'), path);
    expect(await openOutput(path, { inputs: [], overwrite: false })).toMatchObject({
      ok: false,
      error: [{ code: 'output-exists' }],
    });
  },
);
