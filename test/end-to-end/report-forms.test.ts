import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rig } from '../live/recipe-on.js';
import { all, parsed, textOf } from './drawn.js';
import { fixture, inFolder, runLoaded, scratchFolder } from './run.js';
import { guarded, lowCut, standingDesk } from './standing-desk.js';

const show = fixture('rig-small.json');
const desks = ['--targets', 'graphic-31'];

/** Commands that answer without a desk, and what their files are called. */
const commands: readonly (readonly [name: string, args: readonly string[]])[] = [
  ['check', ['check', '--target', 'log-179']],
  ['compare', ['compare', show, ...desks]],
  ['tradeoff', ['tradeoff', '--target', 'top-18']],
];

describe.each(commands)('%s', (name, args) => {
  it('writes each form into a folder, as it would stand on standard output', async () => {
    await inFolder(async (cwd) => {
      const forms: readonly (readonly [flags: readonly string[], ending: string])[] = [
        [[], 'txt'],
        [['--format', 'sheet'], 'html'],
        [['-f', 'svg'], 'svg'],
        [['--json'], 'json'],
      ];
      for (const [flags, ending] of forms) {
        const shown = await runLoaded([...args, ...flags], { cwd });
        const written = await runLoaded([...args, ...flags, '--output', 'out/'], { cwd });
        expect([ending, written.exitCode, written.stdout.toString()]).toEqual([ending, shown.exitCode, '']);
        expect(written.stderr).toMatch(new RegExp(`^Wrote out/${name}\\.${ending}\n`));
        expect(await readFile(join(cwd, 'out', `${name}.${ending}`))).toEqual(shown.stdout);
      }
      expect((await readdir(join(cwd, 'out'))).sort()).toEqual(
        ['html', 'json', 'svg', 'txt'].map((ending) => `${name}.${ending}`),
      );
    });
  });

  it('replaces nothing that stands there unless told to, and says what it comes to where nobody sees it', async () => {
    await inFolder(async (cwd) => {
      await writeFile(join(cwd, 'page.html'), 'mine');
      const into = [...args, '--format', 'sheet', '--output', 'page.html'];
      const refused = await runLoaded(into, { cwd });
      expect([refused.exitCode, refused.stderr]).toEqual([4, expect.stringContaining('[output-exists]')]);
      expect(await readFile(join(cwd, 'page.html'), 'utf8')).toBe('mine');
      const forced = await runLoaded([...into, '--force'], { cwd });
      expect(forced.stderr.split('\n').length).toBeGreaterThan(2);
      expect(await readFile(join(cwd, 'page.html'), 'utf8')).toMatch(/^<!DOCTYPE html>\n<html /);
      expect(await readdir(cwd)).toEqual(['page.html']);
    });
  });

  it.each([
    ['--json', '--format', 'sheet'],
    ['--format', 'pdf'],
    ['--format', 'sheet,svg'],
  ])('refuses %s %s %s', async (...flags) => {
    const { exitCode, stderr } = await runLoaded([...args, ...flags.filter((flag) => flag !== undefined)]);
    expect([exitCode, stderr]).toEqual([2, expect.stringMatching(/^error: option '/)]);
  });
});

describe('a report that cannot be made', () => {
  it('leaves no file behind', async () => {
    await inFolder(async (cwd) => {
      const wrong = [
        ['check', '--target', 'log-180', '--format', 'svg', '-o', 'out.svg'],
        ['tradeoff', '--target', 'log-179', '--pilot', '30k', '--format', 'sheet', '-o', 'out.html'],
        ['compare', 'nowhere.json', '--format', 'sheet', '-o', 'out.html'],
        [
          'inspect',
          show,
          '--target',
          'log-179',
          '--to',
          '127.0.0.1:9',
          '--retries',
          '0',
          '-f',
          'svg',
          '-o',
          'i.svg',
        ],
      ];
      for (const args of wrong) {
        const { exitCode, stdout, stderr } = await runLoaded(args, { cwd });
        expect([args[0], exitCode === 0, stdout.toString()]).toEqual([args[0], false, '']);
        expect(stderr).toMatch(/\[[a-z-]+\]/);
      }
      expect(await readdir(cwd)).toEqual([]);
    });
  });

  it('is not one that takes the place of what is read', async () => {
    await inFolder(async (cwd) => {
      await writeFile(join(cwd, 'show.json'), JSON.stringify(rig));
      const args = [
        'compare',
        'show.json',
        ...desks,
        '--format',
        'sheet',
        '--output',
        'show.json',
        '--force',
      ];
      const { exitCode, stderr } = await runLoaded(args, { cwd });
      expect([exitCode, stderr]).toEqual([4, expect.stringContaining('[output-is-input]')]);
    });
  });

  it.each([
    ['compare', show, ...desks, '--venue', 'Harbour'],
    ['inspect', show, '--target', 'log-179', '--to', '127.0.0.1', '--date', 'Friday', '--json'],
  ])('where a sheet is told something and none is made: %s', async (...args) => {
    const { exitCode, stderr } = await runLoaded(args);
    expect([exitCode, stderr]).toEqual([
      2,
      expect.stringMatching(/A sheet tells it, and (text|json) does not/),
    ]);
  });
});

describe('pictures', () => {
  const shipped = async (): Promise<readonly string[]> => {
    const { stdout } = await runLoaded(['targets', 'list', '--json']);
    return (JSON.parse(stdout.toString()) as { targets: readonly { id: string }[] }).targets.map(
      ({ id }) => id,
    );
  };

  /** What a picture that stands alone must have: SVG 2, sections 5.1.4 and 5.8 for names and descriptions. */
  const expectPicture = (text: string): void => {
    const svg = parsed(text);
    expect([svg.tagName, svg.getAttribute('role')]).toEqual(['svg', 'img']);
    expect(svg.getAttribute('viewBox')).toMatch(/^0 0 [\d.]+ [\d.]+$/);
    const [title, description] = [all(svg, 'title')[0], all(svg, 'desc')[0]];
    expect(title && textOf(title)).toBeTruthy();
    expect(description && textOf(description)).toBeTruthy();
    expect(text).not.toMatch(/NaN|undefined|Infinity/);
  };

  it('of checks are well-formed for every shipped target, one by one and all together', async () => {
    const ids = await shipped();
    expect(ids.length).toBeGreaterThan(15);
    for (const args of [['check'], ...ids.map((id) => ['check', '--target', id])]) {
      const { exitCode, stdout } = await runLoaded([...args, '--format', 'svg']);
      expect([args, exitCode]).toEqual([args, 0]);
      expectPicture(stdout.toString());
    }
  });

  it('of comparisons and trade-offs are well-formed', async () => {
    for (const args of [
      ['compare', show],
      ['tradeoff', '--target', 'graphic-31'],
      ['tradeoff', '--target', 'top-18', '--attenuation', '2'],
    ]) {
      expectPicture((await runLoaded([...args, '--format', 'svg'])).stdout.toString());
    }
  });

  it('of inspections are well-formed, each leg where they are dialled apart', async () => {
    const cut = { ...lowCut, knobs: { frequency: { index: 3 } } };
    for (const [target, slots] of [
      ['log-179', guarded],
      ['two-legs', [cut]],
    ] as const) {
      const desk = await standingDesk(slots, slots, { target });
      expectPicture((await desk.inspect('--format', 'svg')).stdout.toString());
    }
  });

  it('are the same whenever they are made', async () => {
    const cwd = await scratchFolder();
    const make = async () => (await runLoaded(['check', '--format', 'svg'], { cwd })).stdout.toString();
    expect(await make()).toBe(await make());
  });
});
