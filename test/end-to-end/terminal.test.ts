import { describe, expect, it } from 'vitest';
import { displayWidth } from '../../src/layout/display-width.js';
import { hasTerminal, plainText, showOnTerminal } from './builders/on-terminal.js';
import { fixture, run, runLoaded } from './run.js';

/* What depends on whether somebody looks: colours, and how wide the window is. */

const small = fixture('rig-small.json');
const recipeOn = (target: string): readonly string[] => ['recipe', small, '--target', target];

describe('colours', () => {
  const bad = ['recipe', 'gone.json', '--target', 'log-179'];

  it.each([bad, recipeOn('r40')])('there are none where nobody looks: %s %s', async (...args) => {
    const { stdout, stderr } = await run(args, { env: { FORCE_COLOR: '1' } });
    expect(stdout.toString() + stderr).not.toContain('\u001b');
  });

  it.runIf(hasTerminal)('there are some on a terminal, and none for who sets NO_COLOR', async () => {
    expect((await showOnTerminal(bad)).screen).toContain('\u001b[31mbandwright:');
    const plain = (await showOnTerminal(bad, { env: { NO_COLOR: '1' } })).screen;
    expect(plain).toContain('bandwright: gone.json');
    expect(plain).not.toContain('\u001b');
  });

  // SGR 31, 32 and 39 (ECMA-48, 8.3.117): red, green, and back to the usual.
  it.runIf(hasTerminal).each<[string, readonly string[], readonly string[]]>([
    ['a recipe', recipeOn('top-18'), ['\u001b[31mFALLS SHORT\u001b[39m', '\u001b[31mNO LOW CUT\u001b[39m']],
    ['a recipe, all of it', [...recipeOn('r40'), '--full'], ['\u001b[32mGUARD MET\u001b[39m']],
    [
      'a comparison',
      ['compare', small, '--targets', 'r40,top-18'],
      ['\u001b[32mGUARD MET\u001b[39m', '\u001b[31mFALLS SHORT\u001b[39m'],
    ],
  ])('verdicts of %s have them, and say the same without', async (_, args, coloured) => {
    const { screen } = await showOnTerminal(args);
    for (const verdict of coloured) expect(screen).toContain(verdict);
    const plain = await showOnTerminal(args, { env: { NO_COLOR: '1' } });
    expect(plain.screen).not.toMatch(/\[3\dm/);
    expect(plainText(plain.screen)).toBe(plainText(screen));
    // no-color.org: present and not empty.
    expect((await showOnTerminal(args, { env: { NO_COLOR: '' } })).screen).toBe(screen);
  });

  it.runIf(hasTerminal)('a binary format does not garble a terminal', async () => {
    const { screen, exitCode } = await showOnTerminal([...recipeOn('log-179'), '--format', 'osc-binary']);
    expect(screen).toContain('binary');
    expect(screen).not.toContain('/mix/');
    expect(exitCode).toBe(2);
  });
});

describe('the width of a window', () => {
  const commands = [
    'check --target r40,octave-6',
    'check --target log-179',
    'tradeoff --target top-18',
    `compare ${small} --targets r40,top-18`,
    `recipe ${small} --target octave-6 --full`,
    'targets list',
  ];
  const recipe = `recipe ${small} --target octave-6`;
  const widestOf = (text: string): number =>
    Math.max(
      ...plainText(text)
        .split('\n')
        .map((line) => displayWidth(line)),
    );

  it.runIf(hasTerminal).each([...commands, recipe])('is kept to down to 40 columns: %s', async (command) => {
    for (const columns of [40, 61]) {
      const { screen } = await showOnTerminal(command.split(' '), { columns, quiet: true });
      expect(screen.length).toBeGreaterThan(200);
      expect(widestOf(screen)).toBeLessThanOrEqual(columns);
      expect(widestOf(screen)).toBeGreaterThan(columns - 10);
    }
  });

  it.runIf(hasTerminal)(
    'lets a line of a recipe be as long as 120 columns, and a sentence as 100',
    async () => {
      const columns = 130;
      expect(widestOf((await showOnTerminal(recipe.split(' '), { columns })).screen)).toBe(120);
      expect(widestOf((await showOnTerminal([...recipe.split(' '), '--full'], { columns })).screen)).toBe(
        100,
      );
    },
  );

  it.each([...commands, recipe])('is 80 where there is none: %s', async (command) => {
    const { stdout } = await runLoaded(command.split(' '));
    expect(widestOf(stdout.toString())).toBeLessThanOrEqual(80);
    expect(widestOf(stdout.toString())).toBeGreaterThan(70);
  });

  it.runIf(hasTerminal)('breaks no path and no command line', async () => {
    const path = 'gone/where/it is/a/rather/long/way/from/here/to/the/show.json';
    const gone = await showOnTerminal(['recipe', path, '--target', 'r40'], { columns: 40 });
    expect(gone.screen).toContain(` ${path}:`);
    // Asked is what pre-emphasis of 75 us adds at the pilot: 10 log10(1 + (2 pi 19000 tau)^2) = 19.09 dB, by hand.
    const hint = await showOnTerminal(recipeOn('top-18'), { columns: 40 });
    expect(hint.screen).toMatch(/^ {2}bandwright tradeoff --target top-18 --attenuation 19\.09\r?$/m);
  });
});
