import { copyFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect } from 'vitest';
import { fixture, runLoaded } from '../run.js';

/** What the linter says of a file, and whether a recipe for a small rig can be made with it. */
export const tryTarget = async (cwd: string, file: string): Promise<void> => {
  const linted = await runLoaded(['targets', 'lint', `./${file}`], { cwd });
  expect([linted.exitCode, linted.stderr]).toEqual([0, '']);
  expect(linted.stdout.toString()).toContain('good');
  await copyFile(fixture('rig-small.json'), join(cwd, 'rig.json'));
  const recipe = await runLoaded(['recipe', 'rig.json', '--target', `./${file}`], { cwd });
  expect([recipe.exitCode, recipe.stderr]).toEqual([0, '']);
};
