import { mkdir, symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { runProgram } from '../run.js';
import { type Case, json, path, show, toLog179 } from './case.js';
import { targetJson } from './samples.js';

const desk = { 'desk.json': targetJson };
const old = { 'old.txt': 'mine\n', 'old/recipe.csv': 'mine\n' };
const oldFolders = (folder: string) =>
  Promise.all(
    ['txt', 'json'].map((end) => mkdir(join(folder, 'there', `recipe.${end}`), { recursive: true })),
  );
const pipe = (folder: string) => runProgram('mkfifo', ['pipe'], { cwd: folder });

/** Outputs that cannot be written, or must not be. */
export const badOutputs: readonly Case[] = [
  path('an output below a file', 'show.json/out.txt', 'file-unwritable', 'part of its path is not a folder'),
  path('an output further below a file', 'show.json/a/b.txt', 'file-unwritable', 'is not a folder'),
  path('the rig as output', 'show.json', 'output-is-input', 'show.json', 'Name another output'),
  path('the rig as output, by ./', './show.json', 'output-is-input', './show.json'),
  path('the target as output', 'desk.json', 'output-is-input', 'desk.json'),
  {
    ...path('the rig as output, by a link', 'link.json', 'output-is-input', 'link.json'),
    before: (folder) => symlink('show.json', join(folder, 'link.json')),
  },
  {
    ...path('the rig as output, by a linked folder', 'here/show.json', 'output-is-input', 'here/show.json'),
    before: (folder) => symlink('.', join(folder, 'here')),
  },
  {
    ...path('the rig as output, by force', '', 'output-is-input', 'show.json'),
    args: [...toLog179, '--force', '--output', 'show.json'],
  },
  {
    ...path('an output that is there', 'old.txt', 'output-exists', 'old.txt', '--force'),
    files: { ...show, ...desk, ...old },
  },
  {
    ...path('one of two outputs that is there', '', 'output-exists', 'old/recipe.csv', '--force'),
    files: { ...show, ...old },
    args: [...toLog179, '--format', 'text,csv', '--output', 'old/'],
    plainOnly: true,
  },
  {
    ...path('a folder of the same name', 'there', 'output-is-folder', 'there/recipe.'),
    before: oldFolders,
  },
  {
    ...path('a pipe as output, by force', '', 'file-unwritable', 'pipe'),
    args: [...toLog179, '--force', '--output', 'pipe'],
    before: pipe,
  },
  {
    ...json('a folder that was made for nothing', '[3]', '[0]', 'out-of-range'),
    args: [...toLog179, '--output', 'new/deep/out.txt'],
  },
];

/** Where Linux has a folder that nothing can be made in, by nobody. */
export const unwritablePlaces: readonly Case[] =
  process.platform === 'linux'
    ? [
        path('an output in /proc', '/proc/out.txt', 'file-unwritable', '/proc/out.txt'),
        path(
          'an output further below /proc',
          '/proc/new/deep/out.txt',
          'file-unwritable',
          '/proc/new/deep/out.txt',
        ),
      ]
    : [];
