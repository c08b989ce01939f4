/** What a finished command tells the shell. */
export const exitCodes = {
  /** Done, and what was to hold holds. */
  done: 0,
  /** Done, but the result falls short. */
  fallsShort: 1,
  /** The command line is wrong. */
  usage: 2,
  /** An input file is wrong. */
  badInput: 3,
  /** The desk, a file or an output could not be reached or written. */
  unreachable: 4,
  /** A fault of this tool itself; the number BSD's sysexits.h gives such faults. */
  internalFault: 70,
  /** Interrupted or not agreed to, in a safe state that the last line describes. */
  interrupted: 130,
} as const;

export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];

const unreachable: ReadonlySet<string> = new Set([
  'file-unreadable',
  'file-unwritable',
  'output-exists',
  'output-is-input',
  'output-is-folder',
  'desk-unreachable',
  'desk-silent',
  'desk-busy',
  'packet-unreadable',
  'lock-unwritable',
  'journal-unwritable',
  'journal-unfit',
  'host-unknown',
  'port-unavailable',
]);

const usage: ReadonlySet<string> = new Set([
  'target-unknown',
  'usage',
  'quantiser-module',
  'destination-refused',
]);

const shortfalls: ReadonlySet<string> = new Set(['address-silent', 'answer-unfit', 'name-differs']);

/** The exit code that goes with problems that stopped a command, by the first of them. */
export const exitCodeFor = (codes: readonly string[]): ExitCode => {
  const first = codes[0] ?? '';
  if (unreachable.has(first)) return exitCodes.unreachable;
  if (shortfalls.has(first)) return exitCodes.fallsShort;
  return usage.has(first) ? exitCodes.usage : exitCodes.badInput;
};
