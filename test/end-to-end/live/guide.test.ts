import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { inFolder, projectRoot, runLoaded } from '../run.js';
import { rehearse } from './rehearsal.js';

/* What targets/README.md has people type, one after the other, against the stand-in that it starts. */

/** The words of a command line as a shell takes them, as far as the guide writes them. */
const words = (line: string): readonly string[] =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? '');

const guide = await readFile(join(projectRoot, 'targets/README.md'), 'utf8');
const chapter = /^## A desk in five minutes$([\s\S]*?)^## /m.exec(guide)?.[1] ?? '';
const commands = [...chapter.matchAll(/```console\n([\s\S]*?)```/g)].flatMap(([, block = '']) =>
  block
    .trim()
    .split('\n')
    .map((line) => words(line).slice(1)),
);

it('a desk in five minutes', async () => {
  const [standin, asking, ...others] = commands;
  expect(standin?.[0]).toBe('standin');
  // It asks on a terminal, and is tried there.
  expect(asking).toEqual(['learn', 'frequency']);
  expect(others.map(([command]) => command)).toEqual(['learn', 'targets', 'learn', 'targets', 'check']);
  await inFolder(async (folder) => {
    const desk = await rehearse(folder, { target: standin?.[2] ?? '', scatter: false });
    const told: string[] = [];
    for (const command of others) {
      const isLive = command[0] === 'learn' && command.includes('--target');
      const here = command.map((word) => word.replace('52179', String(desk.port)));
      const { exitCode, stdout, stderr } = await runLoaded([...here, ...(isLive ? ['--yes'] : [])], {
        cwd: folder,
        env: { BANDWRIGHT_JOURNALS: desk.journals },
      });
      expect(exitCode, `${command.join(' ')}\n${stderr}`).toBe(0);
      told.push(stdout.toString());
    }
    await desk.close();
    // The grid of that archetype, as its file in targets/ has it.
    const grid = '{"kind":"geometric","from":26,"to":21700,"count":179}';
    expect(told[0]).toContain(grid);
    expect(told[2]).toContain(grid);
    expect(told[0]).toContain('SETTLED');
  });
});
