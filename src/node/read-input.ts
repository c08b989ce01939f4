import { fstatSync } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { largestInputBytes } from '../documents/decode.js';
import { type Outcome, problem } from '../model/problem.js';
import { printable } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { fileProblem } from './file-problem.js';

/** A file's bytes and the name to call it by in messages. */
export interface Input {
  readonly bytes: Uint8Array;
  readonly source: string;
}

const tooLarge = (source: string): Outcome<never> =>
  fail([
    {
      ...problem(
        'file-too-large',
        '',
        `${source} is larger than ${largestInputBytes / 1024 ** 2} MiB, the most this tool reads. Nothing was read. Check that it is the file you meant.`,
      ),
      source,
    },
  ]);

const readStream = async (stream: AsyncIterable<Uint8Array>, source: string): Promise<Outcome<Input>> => {
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of stream) {
    length += chunk.length;
    if (length > largestInputBytes) return tooLarge(source);
    chunks.push(chunk);
  }
  return ok({ bytes: Buffer.concat(chunks), source });
};

/** How much is asked for at once: a whole rig or target in one go. */
const chunkBytes = 64 * 1024;

/** A file's bytes piece by piece; a stream would do the same, and cost a few milliseconds to load and start. */
async function* piecesOf(file: FileHandle): AsyncIterable<Uint8Array> {
  for (;;) {
    const { bytesRead, buffer } = await file.read(new Uint8Array(chunkBytes), 0, chunkBytes, null);
    if (bytesRead === 0) return;
    yield buffer.subarray(0, bytesRead);
  }
}

/** A document as it was given, or read from its text. `source` is what it is called in problems. */
export const readGiven = <Document extends object>(
  given: Document | string | Uint8Array,
  source: string,
  read: (text: string | Uint8Array, options: { readonly source: string }) => Outcome<Document>,
): Outcome<Document> =>
  // An object is held to the same schema and rules as a file: its type says little of its numbers.
  read(typeof given === 'string' || given instanceof Uint8Array ? given : JSON.stringify(given), { source });

/** What a shell hands over in place of a file: open already. */
const descriptorOf = (path: string): number | null => {
  const digits = /^\/(?:dev|proc\/self)\/fd\/(\d+)$/.exec(path)?.[1];
  if (path === '/dev/stdin') return 0;
  return digits === undefined ? null : Number(digits);
};

/** A pipe that is open already, so that waiting for it ends with the program; null where it is none. */
const openPipe = async (descriptor: number): Promise<AsyncIterable<Uint8Array> | null> => {
  if (descriptor === 0) return process.stdin;
  const found = fstatSync(descriptor);
  if (!found.isFIFO() && !found.isSocket()) return null;
  // Few need it, and it takes a while to load.
  const { Socket } = await import('node:net');
  return new Socket({ fd: descriptor, readable: true, writable: false });
};

/** Whether a file is a terminal, at which somebody would have to type. */
const isTerminal = async (file: FileHandle): Promise<boolean> =>
  (await file.stat()).isCharacterDevice() && (await import('node:tty')).isatty(file.fd);

const waits = (source: string, what: string): Outcome<never> => {
  const told = `Cannot read ${source}: it is no file but a ${what}. Give - and let it come in by standard input.`;
  return fail([{ ...problem('file-unreadable', '', told), source }]);
};

/** Reads a file, or standard input for `-`; never more than the largest input allowed, however large it is. */
export const readInput = async (path: string): Promise<Outcome<Input>> => {
  if (path === '-') return readStream(process.stdin, 'standard input');
  const source = printable(path);
  try {
    // Opening a pipe waits for whoever writes into it, and nothing ends that.
    const descriptor = descriptorOf(path);
    const pipe = descriptor === null ? null : await openPipe(descriptor);
    if (pipe) return await readStream(pipe, source);
    if (descriptor === null && (await stat(path)).isFIFO()) return waits(source, 'pipe');
    const file = await open(path);
    try {
      if (await isTerminal(file)) return waits(source, 'terminal');
      return await readStream(piecesOf(file), source);
    } finally {
      await file.close();
    }
  } catch (error) {
    return fail([fileProblem('file-unreadable', path, 'read', error)]);
  }
};

/** A file's bytes once more; null where there is nothing to read twice: a pipe, standard input, what is gone since. */
export const readTwice = async (path: string): Promise<Input | null> => {
  if (path === '-' || !(await stat(path).catch(() => null))?.isFile()) return null;
  const input = await readInput(path);
  return input.ok ? input.value : null;
};
