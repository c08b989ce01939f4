import { spawn, spawnSync } from 'node:child_process';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { float, oscClient } from '../osc-client.js';
import { binary, environment, inFolder } from '../run.js';
import { type Rehearsal, rehearse } from './rehearsal.js';

/*
 * On a real pseudo-terminal, as util-linux's `script` gives one: what is asked there, and what the screen gets. Where
 * there is no such `script` these are skipped.
 */

const hasScript = /util-linux/.test(spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '');

const quoted = (words: readonly string[]): string => words.map((word) => `'${word}'`).join(' ');

/** Pushes on a terminal so many columns wide, and types an answer once it is asked. */
const pushOnTerminal = (
  { recipe, journals, port }: Rehearsal,
  answer: string,
  env: Readonly<Record<string, string>> = {},
  meanwhile: () => Promise<unknown> = async () => undefined,
): Promise<{ readonly exitCode: number | null; readonly screen: string }> =>
  new Promise((resolve, reject) => {
    const args = ['push', recipe, '--to', `127.0.0.1:${port}`, '--accept-names', '--rate', '2000'];
    const command = `stty cols 60 rows 40; ${quoted([process.execPath, binary, ...args])}`;
    const terminal = spawn('script', ['--quiet', '--return', '--flush', '--command', command, '/dev/null'], {
      env: environment({ BANDWRIGHT_JOURNALS: journals, TERM: 'xterm', SHELL: '/bin/sh', ...env }),
    });
    let screen = '';
    let isAnswered = false;
    terminal.stdout.on('data', (chunk: Buffer) => {
      screen += chunk.toString('utf8');
      if (isAnswered || !screen.includes('[y/N]')) return;
      isAnswered = true;
      void meanwhile().then(() => terminal.stdin.write(answer));
    });
    terminal.on('error', reject);
    terminal.on('close', (exitCode) => resolve({ exitCode, screen }));
  });

const wrote = ({ events }: Rehearsal): boolean => events.some(({ event }) => event === 'write');

// biome-ignore lint/suspicious/noControlCharactersInRegex: escapes are what is looked for.
const colour = /\u001b\[\d+m/;

const onTerminal = (work: (rehearsal: Rehearsal) => Promise<void>): Promise<void> =>
  inFolder(async (folder) => {
    const rehearsal = await rehearse(folder, { target: 'digits-3', seed: 8 });
    try {
      await work(rehearsal);
    } finally {
      await rehearsal.close();
    }
  });

describe.skipIf(!hasScript)('on a terminal', () => {
  it('lists what will change on which outputs, with the caution, and writes on yes', () =>
    onTerminal(async (rehearsal) => {
      const { exitCode, screen } = await pushOnTerminal(rehearsal, 'y\r');
      expect(exitCode, screen).toBe(0);
      expect(wrote(rehearsal)).toBe(true);
      const [asked = ''] = screen.split('[y/N]');
      expect(asked).toMatch(/1\/2 {5}Heron/);
      expect(asked).toMatch(/then {2}on, bell 19\.0 kHz Q 10\.0 -15\.0 dB/);
      expect(asked).toMatch(/have performers take their in-ears out/);
      expect(asked).toMatch(colour);
      // Nothing is wider than the window but a path, which is left whole.
      const wide = asked
        .split(/[\r\n]+/)
        .filter((line) => line.replaceAll(new RegExp(colour, 'g'), '').length > 60);
      expect(wide.filter((line) => !line.includes(rehearsal.journals))).toEqual([]);
      expect(asked).toMatch(/will be\s+kept in\r?\n {2}\S+\.json\r?\n/);
      const [kept] = await rehearsal.kept();
      expect(screen).toMatch(new RegExp(`\\n {2}bandwright restore ${kept}\\r?\\n`));
    }));

  it.each(['n\r', '\r', 'yeah\r', '\u0004'])('writes nothing when answered %j', (answer) =>
    onTerminal(async (rehearsal) => {
      const { exitCode, screen } = await pushOnTerminal(rehearsal, answer);
      expect(exitCode, screen).toBe(130);
      expect(screen).toMatch(/Nothing was written/);
      expect(screen).not.toMatch(/is kept|was kept|bandwright restore/);
      expect(wrote(rehearsal)).toBe(false);
      expect(await rehearsal.kept()).toEqual([]);
    }),
  );

  it('writes nothing when Ctrl-C is pressed instead of an answer', () =>
    onTerminal(async (rehearsal) => {
      const { exitCode, screen } = await pushOnTerminal(rehearsal, '\u0003');
      expect(exitCode, screen).toBe(130);
      expect(wrote(rehearsal)).toBe(false);
    }));

  it('writes nothing where somebody turned a dial while it asked', () =>
    onTerminal(async (rehearsal) => {
      const desk = await oscClient('udp', rehearsal.port);
      const turn = async (): Promise<void> => {
        desk.send('/mix/1/filter/3/frequency', float(440));
        await setTimeout(600);
      };
      const { exitCode, screen } = await pushOnTerminal(rehearsal, 'y\r', {}, turn);
      expect(exitCode, screen).toBe(1);
      expect(screen).toContain('desk-changed');
      const writes = rehearsal.events.flatMap((event) => (event.event === 'write' ? [event.address] : []));
      expect(writes).toEqual(['/mix/1/filter/3/frequency']);
      expect(await rehearsal.kept()).toEqual([]);
    }));

  it('shows no colour where NO_COLOR is set', () =>
    onTerminal(async (rehearsal) => {
      const { screen } = await pushOnTerminal(rehearsal, 'n\r', { NO_COLOR: '1' });
      expect(screen).not.toMatch(colour);
    }));
});
