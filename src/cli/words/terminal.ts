import pc from 'picocolors';
import { wrap } from '../../layout/wrap.js';
import { printable } from '../../units/quote.js';

export type Colours = ReturnType<typeof pc.createColors>;

/** Where a command's words go: data to `out`, messages to `err`. */
export interface Terminal {
  out(data: string | Uint8Array): void;
  err(message: string): void;
  /** Says what is going on: in one line that changes on a terminal, a line each elsewhere; null takes it away. */
  progress(message: string | null): void;
  /** Rings the terminal's bell. */
  ring(): void;
  readonly outIsTerminal: boolean;
  readonly errIsTerminal: boolean;
  /** Whether there is somebody to ask. */
  readonly canAsk: boolean;
  /** How wide the window is, 80 where there is none. */
  readonly columns: number;
  /** Colours for `err`, and for `out`: none where nobody looks, or wants any. */
  readonly colours: Colours;
  readonly outColours: Colours;
}

const [leastColumns, mostColumns, plainColumns] = [40, 100, 80];

const within = (columns: number): number => Math.max(leastColumns, Math.min(columns, mostColumns));

/** How wide lines on `out` may be: as the window is, from 40 to 100; what goes elsewhere is the same everywhere. */
export const pageColumns = ({
  outIsTerminal,
  columns,
}: Pick<Terminal, 'outIsTerminal' | 'columns'>): number => (outIsTerminal ? within(columns) : plainColumns);

/** How wide tables on `out` may be that have much to tell: as the window is, however wide. */
export const wideColumns = ({ outIsTerminal, columns }: Terminal): number =>
  outIsTerminal ? Math.max(leastColumns, columns) : plainColumns;

/** How wide messages may be. */
export const messageColumns = ({ columns }: Terminal): number => within(columns);

const bell = '\u0007';

const clearLine = '\r\u001b[K';

/** Colour is for terminals, and for nobody who sets NO_COLOR (no-color.org: present, not empty). */
const coloursFor = (stream: { readonly isTTY?: boolean }): Colours =>
  pc.createColors(stream.isTTY === true && !process.env.NO_COLOR);

/** The streams and the window of this process. */
export const processTerminal = (): Terminal => {
  // Elsewhere than on a terminal the same line twice says nothing.
  let lastProgress: string | null = null;
  return {
    out: (data) => {
      process.stdout.write(data);
    },
    err: (message) => {
      process.stderr.write(`${message}\n`);
    },
    progress: (message) => {
      const { isTTY, columns } = process.stderr;
      if (isTTY)
        process.stderr.write(`${clearLine}${wrap(message ?? '', (columns || plainColumns) - 1)[0] ?? ''}`);
      else if (message !== null && message !== lastProgress) process.stderr.write(`${printable(message)}\n`);
      lastProgress = message ?? lastProgress;
    },
    ring: () => {
      const { stdout, stderr } = process;
      (stdout.isTTY && !stderr.isTTY ? stdout : stderr).write(bell);
    },
    outIsTerminal: process.stdout.isTTY === true,
    errIsTerminal: process.stderr.isTTY === true,
    // Opening standard input takes Node.js a while: only what asks pays for it.
    get canAsk() {
      return process.stdin.isTTY === true && process.stderr.isTTY === true;
    },
    columns: process.stdout.columns || process.stderr.columns || plainColumns,
    colours: coloursFor(process.stderr),
    outColours: coloursFor(process.stdout),
  };
};
