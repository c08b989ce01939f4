import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Typed } from './on-terminal.js';

/** A JSON file as data. */
export const readJson = async (...path: readonly string[]) =>
  JSON.parse(await readFile(join(...path), 'utf8'));

/** A wrapped message on one line. */
export const oneLine = (text: string): string => text.replace(/\s+/g, ' ');

export const enter = '\r';
export const down = '\u001b[B';
export const escapeKey = '\u001b';
export const ctrlC = '\u0003';

/** An answer to the question for the next mix, once it is asked. */
export const nextMix = (text: string): Typed => ['◆  Next mix', `${text}${enter}`];
