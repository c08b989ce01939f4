import pc from 'picocolors';
import type { Terminal } from '../../src/cli/words/terminal.js';

/** What a command said, where, and how it ended. */
export interface Captured {
  readonly exitCode: number;
  readonly out: string;
  readonly err: string;
  /** What it said it was doing. */
  readonly doing: readonly string[];
}

interface Window {
  /** How wide the terminal is that data goes to; it goes elsewhere unless given. */
  readonly columns?: number;
  readonly isColoured?: boolean;
}

/** Runs a command in this process, and keeps what it says. */
export const captured = async (
  command: (terminal: Terminal) => Promise<number>,
  { columns, isColoured = false }: Window = {},
): Promise<Captured> => {
  const [out, err, doing]: [string[], string[], string[]] = [[], [], []];
  const exitCode = await command({
    out: (data) => out.push(String(data)),
    err: (message) => err.push(message),
    progress: (message) => {
      if (message !== null) doing.push(message);
    },
    ring: () => undefined,
    outIsTerminal: columns !== undefined,
    errIsTerminal: false,
    canAsk: false,
    columns: columns ?? 80,
    colours: pc.createColors(false),
    outColours: pc.createColors(isColoured),
  });
  return { exitCode, out: out.join(''), err: err.join('\n'), doing };
};
