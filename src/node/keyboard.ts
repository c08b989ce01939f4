import { Readable, Writable } from 'node:stream';
import { StringDecoder } from 'node:string_decoder';
import { isTerminalGone, noteTerminalGone } from './terminal.js';

/** Keys that mean the same whatever is asked: Ctrl-C and Ctrl-D end it, and Ctrl-Z would leave the terminal in a state. */
const [ctrlC, ctrlD, ctrlZ] = ['\u0003', '\u0004', '\u001a'];

/** Pasted lines end in other ways than typed ones, and cells of a table stand apart by tabs. */
const asTyped: Readonly<Record<string, string>> = { '\n': '\r', '\t': ' ' };

/** Colours and weights, but for what tells where the cursor stands: turned round and back, hidden and shown. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: escapes are what is looked for.
const colour = /\u001b\[(?!(?:7|27|8|28)m)[\d;]*m/g;

/** What typed text may hold that would reorder or rewrite the line it is shown in. */
const unsafe = /[\u0080-\u009f\u2028\u2029\p{Cf}]/gu;

/** A terminal as a library of prompts takes it: what is typed, and where questions go. */
export interface Keyboard {
  readonly input: Readable;
  readonly output: Writable;
  /** Gives the terminal back as it was. */
  close(): void;
}

/** Hands on what is typed key by key, so that whoever stops reading after one leaves the rest to the next question. */
class Keys extends Readable {
  readonly isTTY = true;

  override _read(): void {}

  /** The terminal stays as it is from the first question to the last: nothing typed in between is echoed or lost. */
  setRawMode(): this {
    return this;
  }
}

/** Standard error as a terminal, without colours where nobody wants them. */
class Screen extends Writable {
  readonly isTTY = true;

  constructor(private readonly inColour: boolean) {
    super({ decodeStrings: false });
  }

  get columns(): number {
    return process.stderr.columns || 80;
  }

  get rows(): number {
    return process.stderr.rows || 24;
  }

  override _write(chunk: string | Buffer, _encoding: string, done: () => void): void {
    const text = chunk.toString().replace(unsafe, '\ufffd');
    process.stderr.write(this.inColour ? text : text.replace(colour, ''));
    done();
  }
}

/**
 * Takes over the terminal for questions: standard input key by key, standard error for what is shown, so that standard
 * output stays data. `onEnd` is called for Ctrl-C, Ctrl-D and a terminal that is gone, at once, whatever waits to be read.
 */
export const openKeyboard = (inColour: boolean, onEnd: () => void): Keyboard => {
  const [input, output] = [new Keys(), new Screen(inColour)];
  const { stdin, stderr } = process;
  const decoder = new StringDecoder('utf8');
  let before = '';
  const take = (chunk: Buffer): void => {
    for (const key of decoder.write(chunk)) {
      const isSecondOfTwo = key === '\n' && before === '\r';
      before = key;
      if (key === ctrlC || key === ctrlD) onEnd();
      else if (key !== ctrlZ && !isSecondOfTwo) input.push(asTyped[key] ?? key);
    }
  };
  const leave = (): void => {
    noteTerminalGone();
    onEnd();
  };
  const resize = (): void => void output.emit('resize');
  const setRaw = (isRaw: boolean): void => {
    if (isTerminalGone()) return;
    try {
      stdin.setRawMode(isRaw);
    } catch {
      // A terminal does not change its mode once it is gone.
      noteTerminalGone();
    }
  };
  setRaw(true);
  stdin.on('data', take).on('end', leave).on('error', leave);
  stderr.on('resize', resize);
  return {
    input,
    output,
    close: () => {
      stdin.off('data', take).off('end', leave).off('error', leave);
      stderr.off('resize', resize);
      stdin.pause();
      // Whatever still fails on it is of no interest any more.
      stdin.on('error', () => undefined);
      setRaw(false);
    },
  };
};
