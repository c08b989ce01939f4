import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Journal } from '../../model/journal.js';
import type { Outcome, Problem } from '../../model/problem.js';
import { fail, ok } from '../../units/result.js';
import { fileProblem } from '../file-problem.js';
import { readInput } from '../read-input.js';
import { readKept } from './kept-journal.js';

/** What a journal says of itself, without what was found. */
export interface JournalSummary
  extends Pick<Journal, 'startedAt' | 'purpose' | 'title' | 'desk' | 'restores' | 'outcome'> {
  readonly path: string;
  /** The target's id. */
  readonly target: string;
  /** Names of mixes. */
  readonly mixes: readonly string[];
}

/** A file among journals that cannot be read as one. */
export interface UnreadJournal {
  readonly path: string;
  readonly problems: readonly Problem[];
}

export type ListedJournal = JournalSummary | UnreadJournal;

/** Whether a journal was opened and never filled: nothing had been written yet. */
export const isEmptyJournal = ({ problems }: UnreadJournal): boolean => problems[0]?.code === 'journal-empty';

/** Whether a file could be read as a journal. */
export const isReadJournal = (listed: ListedJournal): listed is JournalSummary => 'startedAt' in listed;

const journalName = /^[^.].*\.(json|xml)$/;

const readOne = async (path: string): Promise<Outcome<Journal>> => {
  const input = await readInput(path);
  return input.ok ? readKept(input.value.bytes, { source: input.value.source }) : input;
};

const listOne = async (path: string): Promise<ListedJournal> => {
  const read = await readOne(path);
  if (!read.ok) return { path, problems: read.error };
  const { startedAt, purpose, title, desk, restores, target, mixes, outcome } = read.value;
  return {
    path,
    startedAt,
    purpose,
    title,
    desk,
    ...(restores === undefined ? {} : { restores }),
    target: target.id,
    mixes: mixes.map(({ name }) => name),
    outcome,
  };
};

const timeInName = /(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)Z[^/\\]*$/;

/** When a journal was begun, in ms, as it says or as its name does; before all others where neither tells. */
const beganAt = (listed: ListedJournal): number => {
  if (isReadJournal(listed)) return Date.parse(listed.startedAt);
  const began = Date.parse(listed.path.replace(/^.*[/\\]/, '').replace(timeInName, '$1T$2:$3:$4Z'));
  return Number.isNaN(began) ? Number.NEGATIVE_INFINITY : began;
};

const inNumbers = new Intl.Collator('en', { numeric: true });

const newestFirst = (a: ListedJournal, b: ListedJournal): number => {
  const [first, second] = [beganAt(a), beganAt(b)];
  return first === second ? inNumbers.compare(b.path, a.path) : second - first;
};

/**
 * Every journal of a folder, newest first. A file that cannot be read is listed with its problems. A folder that is
 * not there holds none; one that cannot be read is a problem.
 */
export const listJournals = async (folder: string): Promise<Outcome<readonly ListedJournal[]>> => {
  let names: readonly string[];
  try {
    names = await readdir(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return ok([]);
    return fail([fileProblem('file-unreadable', folder, 'read the folder', error)]);
  }
  const listed: ListedJournal[] = [];
  for (const name of names.filter((each) => journalName.test(each))) {
    listed.push(await listOne(join(folder, name)));
  }
  return ok(listed.sort(newestFirst));
};
