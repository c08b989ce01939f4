import { describe, expect, it } from 'vitest';
import { readRig } from '../../src/documents/read.js';
import type { Fit } from '../../src/fitting/fit.js';
import { nearest } from '../../src/fitting/nearest/nearest.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Target } from '../../src/model/target.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { shipped } from '../targets/shipped.js';
import { fullTextOf, hostileRecipe, shortTextOf } from './export.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

const worked = <Value>(
  outcome: { readonly ok: true; readonly value: Value } | { readonly ok: false; readonly error: unknown },
): Value => {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.error));
  return outcome.value;
};

const rigText = JSON.stringify({
  format: 'bandwright-rig/1',
  title: 'Kiln Yard, second night',
  systems: {
    packs: { link: 'fm-stereo', audioLowHz: 50, audioHighHz: 15000 },
    digital: { link: 'digital' },
    cable: { link: 'wired' },
  },
  mixes: [
    { name: 'Heron and Teasel, all the voices of the second half', outputs: [1, 2], feeds: 'packs' },
    { name: 'Sorrel, bass', outputs: [3], feeds: 'packs' },
    { name: 'Lark', outputs: [4], feeds: 'digital' },
    { name: 'Burdock, drums', outputs: [5, 6], feeds: 'cable' },
  ],
});
const rig = worked(readRig(rigText, { source: 'a rig' }));

const fitted = (on: Target, fit: Fit): Recipe =>
  worked(makeRecipe(rig, worked(makeDesk(on)), { fit, spareSlots: 0 }));

/** Words and figures in order, whatever the lines: what a narrower page must tell as well. */
const figuresIn = (page: string): readonly string[] => [...(page.match(/-?\d+(?:\.\d+)?/g) ?? [])].sort();

const windows = [40, 60, 80, 120] as const;

const expectToFit = async (of: Recipe, on: Target): Promise<void> => {
  const usual = await fullTextOf(of, on);
  for (const columns of windows) {
    const page = await fullTextOf(of, on, columns);
    const lines = page.split('\n');
    expect(lines.filter((line) => displayWidth(line) > columns)).toEqual([]);
    expect(lines.filter((line) => /\s$/.test(line))).toEqual([]);
    // A rule takes the whole width, or the most a page is wide.
    expect(displayWidth(lines[0] ?? '')).toBe(Math.min(columns, 100));
    expect(figuresIn(page)).toEqual(figuresIn(usual));
    expect(page).not.toMatch(/boost/i);
  }
};

describe('the full text fits windows of 40 to 120 columns and says the same in each', () => {
  it.each([...shipped])('on %s, each knob at its nearest step', async (_, on) => {
    await expectToFit(fitted(on, nearest), on);
  });

  it.each(['log-179.json', 'four-band.json'])('on %s, the pilot first', async (file) => {
    const on = shipped.get(file);
    if (!on) throw new Error(`no ${file} is shipped`);
    await expectToFit(fitted(on, protect), on);
  });

  it('with names wide, long and misleading', async () => {
    const names = [
      '鼓手と歌手'.repeat(12),
      'x'.repeat(150),
      'a name of many words '.repeat(9).trim(),
      '👩‍🎤',
    ];
    const mixes = recipe.mixes.map((mix, index) => ({ ...mix, name: names[index % names.length] ?? '' }));
    for (const columns of windows) {
      for (const of of [{ ...recipe, mixes }, hostileRecipe]) {
        const page = await fullTextOf(of, target, columns);
        expect(page.split('\n').filter((line) => displayWidth(line) > columns)).toEqual([]);
      }
    }
  });

  it('has 40 columns in narrower windows, and is no wider than 100', async () => {
    const widest = async (columns: number) =>
      Math.max(...(await fullTextOf(recipe, target, columns)).split('\n').map(displayWidth));
    expect(await widest(12)).toBe(40);
    expect(await widest(300)).toBe(100);
  });
});

const flat = (text: string): string => text.replace(/\s+/g, ' ');

/** What the short text lacks, in a window, of what it owes whoever dials. */
const owed = async (of: Recipe, on: Target, columns: number): Promise<readonly string[]> => {
  const page = await shortTextOf(of, on, columns);
  const tooWide = page.split('\n').filter((line) => displayWidth(line) > columns || /\s$/.test(line));
  const blocks = page.split('\n\n');
  const said = flat(page);
  const lacks = (text: string, inText: string): readonly string[] => (inText.includes(text) ? [] : [text]);
  return [
    ...tooWide,
    ...lacks('take their in-ears out', said),
    ...of.problems.flatMap(({ message }) => lacks(flat(message), said)),
    ...of.mixes.flatMap(({ name, outputs, treatment, filters, missing, guard }) => {
      const block = blocks.find((each) => flat(each).includes(name));
      if (block === undefined) return [name];
      const both =
        on.outputs.stereo === 'legs-separate' ? outputs.map((output) => `[ ] ${output}`).join(' ') : '';
      const boxes = outputs.length > 1 && both !== '' ? both : `[ ] ${outputs.join('/')}`;
      if (treatment === 'leave-alone') return lacks(`${outputs.join('/')} ${name}`, flat(block));
      return [
        ...lacks(`${boxes} ${name}`, flat(block)),
        ...lacks(guard?.verdict === 'met' ? 'GUARD MET' : 'FALLS SHORT', flat(block)),
        ...missing.flatMap(({ role }) => lacks(`NO ${role.replace('-', ' ').toUpperCase()}`, flat(block))),
        // A value is never broken: it stands in one line of the block.
        ...filters.flatMap(({ slot, steps }) => [
          ...(new RegExp(`^ *${slot} `, 'm').test(block) ? [] : [`slot ${slot}`]),
          ...Object.values(steps).flatMap((position) => lacks(position?.display ?? '', block)),
        ]),
      ];
    }),
  ];
};

describe('the short text', () => {
  it.each([...shipped])('on %s tells all that is dialled and amiss at every width', async (_, on) => {
    const of = fitted(on, nearest);
    for (let columns = 40; columns <= 120; columns++)
      expect([columns, await owed(of, on, columns)]).toEqual([columns, []]);
  });

  it.each([80, 100, 120])('gives each filter one line at %i columns, on every desk', async (columns) => {
    for (const [file, on] of shipped) {
      const of = fitted(on, nearest);
      const lines = (await shortTextOf(of, on, columns)).split('\n');
      for (const { slot, steps } of of.mixes[0]?.filters ?? []) {
        const shown = Object.values(steps).map((position) => position?.display ?? '');
        const line = lines.find((each) => each.startsWith(`  ${slot} `));
        expect([file, shown.filter((value) => !line?.includes(value))]).toEqual([file, []]);
      }
    }
  });
});
