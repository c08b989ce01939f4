import { resolve } from 'node:path';
import envPaths from 'env-paths';

/** The environment variable that names the folder for journals. */
export const journalsVariable = 'BANDWRIGHT_JOURNALS';

/**
 * Where journals are kept: the folder asked for, else the one BANDWRIGHT_JOURNALS names, else the platform's own
 * place for what a program notes of its work (on Linux `$XDG_STATE_HOME`, see the XDG Base Directory
 * Specification). Absolute; it need not be there.
 */
export const journalFolder = (asked?: string): string =>
  // A variable that is set to nothing names nothing.
  resolve(asked ?? (process.env[journalsVariable] || envPaths('bandwright', { suffix: '' }).log));
