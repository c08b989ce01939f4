import type { Problem } from '../../model/problem.js';

/** What the library's options are called on the command line. */
const flags: Readonly<Record<string, string>> = {
  to: '--to',
  transport: '--transport',
  target: '--target',
  only: '--only',
  output: '--output',
  blind: '--blind',
  faults: '--fault',
};

/** Problems whose advice names an option of the library, and what it is called on the command line. */
const advised: Readonly<Record<string, readonly [option: string, flag: string]>> = {
  'raises-level': ['allowRise', '--allow-rise'],
  'name-differs': ['acceptNames', '--accept-names'],
  'journal-changed': ['acceptChanges', '--accept-changes'],
  'destination-refused': ['allowBroadcast', '--allow-broadcast'],
  'journal-unwritable': ['journalFolder', '--journal-folder'],
  'output-exists': ['overwrite', '--force'],
  'grid-refused': ['the module that defines it', '--quantiser and the module that defines it'],
};

/** Problems of the library as the command line tells them: its options by the flags that give them. */
export const inFlags = (problems: readonly Problem[]): readonly Problem[] =>
  problems.map((each) => {
    const isUsage = each.code === 'usage' || each.code === 'target-unknown';
    const path = (isUsage ? flags[each.path] : undefined) ?? each.path;
    const [option, flag] = advised[each.code] ?? [];
    // Advice stands at the end: whatever a file may be called comes before.
    const at = option === undefined ? -1 : each.message.lastIndexOf(option);
    if (option === undefined || flag === undefined || at < 0) return { ...each, path };
    const message = `${each.message.slice(0, at)}${flag}${each.message.slice(at + option.length)}`;
    return { ...each, path, message };
  });
