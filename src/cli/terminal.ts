import pc from 'picocolors';

/** Where a command's words go: data to `out`, messages to `err`. */
export interface Terminal {
  out(data: string | Uint8Array): void;
  err(message: string): void;
  readonly outIsTerminal: boolean;
  readonly columns: number;
  readonly colours: ReturnType<typeof pc.createColors>;
}

/** Colour is for messages on a terminal, and for nobody who sets NO_COLOR (no-color.org: present, not empty). */
export const processTerminal = (): Terminal => ({
  out: (data) => {
    process.stdout.write(data);
  },
  err: (message) => {
    process.stderr.write(`${message}\n`);
  },
  outIsTerminal: process.stdout.isTTY === true,
  columns: process.stderr.columns ?? 80,
  colours: pc.createColors(process.stderr.isTTY === true && !process.env.NO_COLOR),
});
