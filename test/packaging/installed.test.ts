import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fixture, run, runLoaded } from '../end-to-end/run.js';
import { pack } from './packed.js';

/** The package is unpacked with no node_modules beside it or above. */
const { folder, root } = await pack();

describe('the installed program', () => {
  it.each([
    '--version',
    'targets list --json',
    'targets show lr-24',
    'targets convert log-179 --to xml',
    'check --target r40',
    `compare ${fixture('rig-small.json')} --targets r40,octave-6`,
    'demo',
  ])('says what it says here: bandwright %s', async (line) => {
    const args = line.split(' ');
    const [there, here] = [
      await run(args, { main: join(root, 'dist/main.cjs'), cwd: folder }),
      await runLoaded(args),
    ];
    expect(there.stdout.length).toBeGreaterThan(4);
    expect(there).toEqual(here);
  });

  it('makes a recipe in every format', async () => {
    const formats = 'text,json,xml,csv,osc,osc-binary,osc-bundle';
    const args = ['recipe', fixture('rig-quay.xml'), '--target', 'log-179', '--format', formats];
    const there = await run([...args, '--output', 'there/'], {
      main: join(root, 'dist/main.cjs'),
      cwd: folder,
    });
    expect(there.stderr).toContain('Wrote there/recipe-bundle.osc');
    await runLoaded([...args, '--output', 'here/'], { cwd: folder });
    const names = await readdir(join(folder, 'there'));
    expect(names).toHaveLength(7);
    for (const name of names) {
      const [one, other] = await Promise.all(
        ['there', 'here'].map((each) => readFile(join(folder, each, name))),
      );
      expect(one?.equals(other as Buffer), name).toBe(true);
    }
  });
});
