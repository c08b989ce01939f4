import { readJournal } from '../../../src/documents/read.js';
import type { Journal } from '../../../src/model/journal.js';
import { sampleText } from '../../documents/samples.js';

/** The sample journal, changed at some places. */
export const journal = async (changes: Readonly<Record<string, unknown>> = {}): Promise<Journal> => {
  const read = readJournal(sampleText('journal', changes), { source: 'sample' });
  if (!read.ok) throw new Error(read.error.map(({ message }) => message).join('\n'));
  return read.value;
};
