import { symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { type Case, rig, unreadable } from './case.js';

const loop = (folder: string) => symlink('loop.json', join(folder, 'loop.json'));

/** Inputs that cannot be read. */
export const badInputs: readonly Case[] = [
  unreadable('a file that is not there', 'shwo.json', 'shwo.json: it does not exist'),
  unreadable('a folder as input', '.', 'it is a folder'),
  unreadable('a path through a file', 'show.json/show.json', 'part of its path is not a folder'),
  unreadable('a name that is too long', `${'n'.repeat(300)}.json`, 'its name is too long'),
  unreadable('an empty name', '', '""', 'it does not exist'),
  unreadable('an escape in a name', 'gone\u001b[31m.json', 'gone\\u{1b}[31m.json'),
  { ...unreadable('a link to itself', 'loop.json', 'loop.json', 'its links go round'), before: loop },
  {
    ...rig('nothing on standard input', '', 'file-empty'),
    args: ['recipe', '-', '-t', 'r40'],
    says: ['standard input'],
  },
];
