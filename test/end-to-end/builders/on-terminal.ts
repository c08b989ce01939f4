import { spawn, spawnSync } from 'node:child_process';
import { binary, environment, type Run, runProgram } from '../run.js';

/*
 * A program on a real pseudo-terminal, as util-linux's `script` gives one, and somebody who types there. Where there is no
 * such `script`, tests that need one are skipped.
 */

export const hasTerminal = /util-linux/.test(
  spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '',
);

/** What is typed once the screen shows something new that has these words. */
export type Typed = readonly [shown: string | RegExp, keys: string];

export interface TypedRun {
  readonly exitCode: number | null;
  /** All that was written to the screen, escapes and all. */
  readonly screen: string;
  /** Keys pressed. */
  readonly keys: number;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: escapes are what is looked for.
const escapes = /\u001b\[[\d;?]*[A-Za-z]/g;

/** A screen's text without what moves the cursor and colours it. */
export const plainText = (screen: string): string => screen.replace(escapes, '').replaceAll('\r', '');

/** A key that a terminal sends as several characters is one. */
const keyCount = (keys: string): number => [...keys.replace(escapes, '.')].length;

const quoted = (words: readonly string[]): string =>
  words.map((word) => `'${word.replaceAll("'", "'\\''")}'`).join(' ');

/** The program has the number of the shell it took the place of, which told it. */
const endProgram = (screen: string, signal: NodeJS.Signals): void => {
  process.kill(Number(/^pid=(\d+)/m.exec(screen)?.[1]), signal);
};

interface ShownOptions {
  readonly columns?: number;
  readonly env?: Readonly<Record<string, string>>;
  /** Whether messages are kept from the screen. */
  readonly quiet?: boolean;
}

/** Runs `bandwright` on a terminal so many columns wide, where nobody types: all that comes to the screen. */
export const showOnTerminal = async (
  args: readonly string[],
  { columns = 80, env = {}, quiet = false }: ShownOptions = {},
): Promise<{ readonly screen: string; readonly exitCode: Run['exitCode'] }> => {
  const line = quoted([process.execPath, binary, ...args]);
  const command = `stty cols ${columns}; exec ${line}${quiet ? ' 2>/dev/null' : ''}`;
  const { stdout, exitCode } = await runProgram('script', ['-qec', command, '/dev/null'], {
    env: { TERM: 'xterm', SHELL: '/bin/sh', ...env },
  });
  return { screen: stdout.toString(), exitCode };
};

interface TerminalOptions {
  readonly cwd: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Somebody at a desk: what is typed whenever the screen asks something new that is like that. */
  readonly whenever?: (shown: string) => string | null;
  /** What ends the program, and nothing else, once the last question of the script is shown. */
  readonly signal?: NodeJS.Signals;
}

/** Runs `bandwright` on a terminal, and types each answer once its question is on the screen. */
export const typeOnTerminal = (
  args: readonly string[],
  script: readonly Typed[],
  { cwd, env = {}, whenever = () => null, signal }: TerminalOptions,
): Promise<TypedRun> =>
  new Promise((resolve, reject) => {
    const command = `stty cols 90 rows 50; echo "pid=$$"; exec ${quoted([process.execPath, binary, ...args])}`;
    const options = ['--quiet', '--return', '--flush', '--command', command, '/dev/null'];
    const terminal = spawn('script', options, {
      cwd,
      env: environment({ TERM: 'xterm', SHELL: '/bin/sh', ...env }),
    });
    let [screen, seen, at, keys] = ['', 0, 0, 0];
    const type = (typed: string): void => {
      seen = screen.length;
      keys += keyCount(typed);
      terminal.stdin.write(typed);
    };
    const late = setTimeout(() => {
      terminal.kill('SIGKILL');
      reject(new Error(`waits for ${String(script[at]?.[0])} after:\n${plainText(screen)}`));
    }, 30_000);
    const step = (): void => {
      const fresh = plainText(screen.slice(seen));
      const answer = whenever(fresh);
      if (answer !== null) {
        type(answer);
        return;
      }
      const [shown, typed] = script[at] ?? [];
      if (shown === undefined || typed === undefined) return;
      if (!(typeof shown === 'string' ? fresh.includes(shown) : shown.test(fresh))) return;
      at++;
      type(typed);
      if (at === script.length && signal) endProgram(screen, signal);
    };
    terminal.stdout.on('data', (chunk: Buffer) => {
      screen += chunk.toString('utf8');
      step();
    });
    terminal.on('error', reject);
    terminal.on('close', (exitCode) => {
      clearTimeout(late);
      resolve({ exitCode, screen, keys });
    });
  });
