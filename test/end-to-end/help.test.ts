import { copyFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { targetJson } from './bad-input/samples.js';
import { fixture, type Run, run, scratchFolder } from './run.js';

interface Help {
  readonly command: string;
  readonly run: Run;
}

/** The commands a help text lists, `help` itself aside. */
const commandsIn = (text: string): readonly string[] => {
  const [, list = ''] = /\nCommands:\n((?: {2}.*\n)+)/.exec(text) ?? [];
  return [...list.matchAll(/^ {2}([a-z]+)/gm)].flatMap(([, name = '']) => (name === 'help' ? [] : [name]));
};

/** The help of a command and of every command below it. */
const helpOf = async (command: readonly string[]): Promise<readonly Help[]> => {
  const help = await run([...command, '--help']);
  const below = commandsIn(help.stdout.toString()).map((name) => helpOf([...command, name]));
  return [{ command: ['bandwright', ...command].join(' '), run: help }, ...(await Promise.all(below)).flat()];
};

const helps = await helpOf([]);

/** Example lines; what is said about one stands two spaces after it. */
const examplesIn = (text: string): readonly string[] =>
  [...text.matchAll(/^ {2}bandwright (.*?)(?: {2,}.*)?$/gm)].map(([, line = '']) => line.trim());

describe('--help', () => {
  it('is there for every command', () => {
    const commands = helps.map(({ command }) => command.replace(/^bandwright ?/, ''));
    expect(commands).toEqual(
      expect.arrayContaining([
        '',
        'recipe',
        'check',
        'targets',
        'targets list',
        'targets show',
        'targets lint',
        'targets convert',
        'demo',
      ]),
    );
  });

  it.each(helps)(
    'of $command goes to standard output, tells its use and shows an example',
    ({ command, run }) => {
      expect([run.exitCode, run.stderr]).toEqual([0, '']);
      const text = run.stdout.toString();
      expect(text).toMatch(new RegExp(`^Usage: ${command}( |$)`, 'm'));
      expect(text).toMatch(/^Examples?:$/m);
      expect(examplesIn(text).length).toBeGreaterThan(0);
      const lines = text.split('\n').filter((line) => !line.startsWith('  bandwright '));
      expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(80);
    },
  );

  const examples = [...new Set(helps.flatMap(({ run }) => examplesIn(run.stdout.toString())))];

  it('shows a good many examples', () => {
    expect(examples.length).toBeGreaterThanOrEqual(8);
  });

  it.each(examples)('the example works as pasted: bandwright %s', async (line) => {
    const cwd = await scratchFolder();
    await copyFile(fixture('rig-small.json'), join(cwd, 'show.json'));
    await writeFile(join(cwd, 'our-desk.json'), targetJson);
    const { exitCode, stdout, stderr } = await run(line.split(' '), { cwd });
    expect(stdout.length + stderr.length).toBeGreaterThan(0);
    expect(stderr).not.toMatch(/^(error|bandwright): /m);
    // A recipe that falls short of its guard works too, and says so by 1.
    expect(/^(recipe|demo)/.test(line) ? [0, 1] : [0]).toContain(exitCode);
  });
});
