import type { Problem } from '../../model/problem.js';
import { fileProblem } from '../file-problem.js';
import { journalsVariable } from './journal-folder.js';

const advice: Readonly<Record<string, string>> = {
  ENOSPC: 'Make room there',
  EDQUOT: 'Make room there',
  EACCES: 'Let yourself write there',
  EPERM: 'Let yourself write there',
};

/**
 * Why the system does not let a journal be kept, and what to do; anything else is a bug of ours and is thrown on.
 * `action` is what was tried, as in "write the journal".
 */
export const journalProblem = (path: string, action: string, error: unknown): Problem => {
  const told = fileProblem('journal-unwritable', path, action, error);
  const first = advice[(error as NodeJS.ErrnoException).code ?? ''] ?? 'Mend that';
  return {
    ...told,
    message: `${told.message} ${first}, or name another folder with --journal-folder or ${journalsVariable}.`,
  };
};
