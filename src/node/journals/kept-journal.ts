import { createHash } from 'node:crypto';
import { type ReadOptions, readJournal } from '../../documents/read.js';
import type { Journal } from '../../model/journal.js';
import { type Outcome, problem } from '../../model/problem.js';
import { fail } from '../../units/result.js';

/** Data with the keys of every object sorted. */
const sorted = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).filter(([, each]) => each !== undefined);
  return Object.fromEntries(
    entries.sort(([a], [b]) => (a < b ? -1 : 1)).map(([key, each]) => [key, sorted(each)]),
  );
};

/** SHA-256 (FIPS 180-4) of a journal without its digest as canonical JSON (RFC 8785), whichever syntax it is kept in. */
const digestOf = ({ digest: _, ...rest }: Journal): string =>
  createHash('sha256')
    .update(JSON.stringify(sorted(rest)))
    .digest('hex');

/** A journal with its digest. */
export const sealed = (journal: Journal): Journal => ({ ...journal, digest: digestOf(journal) });

/** Whether a journal is as it was written, down to the last digit. */
export const isWhole = (journal: Journal): boolean => journal.digest === digestOf(journal);

const cutOff =
  'Nothing had been written by what opened this journal: it was cut off before, or is still at its question. There is nothing to put back.';

/** Reads a journal. Problems: those of its text; `journal-empty`, for one that was opened and never filled. */
export const readKept = (text: string | Uint8Array, options: ReadOptions): Outcome<Journal> =>
  text.length === 0
    ? fail([{ ...problem('journal-empty', '', cutOff), source: options.source }])
    : readJournal(text, options);
