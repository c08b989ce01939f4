import { type Problem, problem } from '../model/problem.js';
import { printable } from '../units/quote.js';

const causes: Readonly<Record<string, string>> = {
  ENOENT: 'it does not exist',
  EACCES: 'access is not permitted',
  EPERM: 'the operation is not permitted',
  EISDIR: 'it is a folder, not a file',
  ENOTDIR: 'part of its path is not a folder',
  EEXIST: 'it exists already',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  ENAMETOOLONG: 'its name is too long',
  ELOOP: 'its links go round in a circle',
  EMFILE: 'too many files are open',
};

/** A refusal of the operating system, told as a Problem; anything else is a bug of ours and is thrown on. */
export const fileProblem = (code: string, file: string, action: string, error: unknown): Problem => {
  const reason = (error as NodeJS.ErrnoException).code;
  if (reason === undefined) throw error;
  const name = file === '' ? '""' : printable(file);
  return {
    ...problem(code, '', `Cannot ${action} ${name}: ${causes[reason] ?? reason}.`),
    source: name,
  };
};
