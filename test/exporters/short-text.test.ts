import { stripVTControlCharacters } from 'node:util';
import { describe, expect, it } from 'vitest';
import demoRig from '../../src/cli/demo-rig.json' with { type: 'json' };
import { readRig } from '../../src/documents/read.js';
import { textForm } from '../../src/exporters/text.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Guard, Recipe } from '../../src/model/recipe.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { db } from '../../src/units/quantity.js';
import { shipped } from '../targets/shipped.js';
import { hostileRecipe, shortTextOf, textOf, withFirstMix } from './export.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

const page = await shortTextOf();
const lines = page.split('\n');
const lineWith = (needle: string, of: string = page): string =>
  of.split('\n').find((line) => line.includes(needle)) ?? '';
const flat = (text: string): string => text.replace(/\s+/g, ' ');

const guard = recipe.mixes[0]?.guard as Guard;
const withGuard = (worst: Partial<Guard['worst']>): Recipe =>
  withFirstMix({ guard: { ...guard, worst: { ...guard.worst, ...worst }, verdict: 'falls-short' } });

describe('the short text', () => {
  it('begins with the show, the desk and the one caution, each once', () => {
    expect(lines.slice(0, 3)).toEqual([
      'Harbour hall, late show',
      'Invented desk: four bells and a cut section (four-bells)',
      'Mute, or have performers take their in-ears out, before you switch any filter.',
    ]);
    for (const line of lines.slice(0, 3)) expect(page.split(line)).toHaveLength(2);
  });

  it('warns of what was found bad on the real desk, and of nothing where nothing was', async () => {
    expect(page).toContain('Known to be bad on the real desk: push.');
    const evidence = { grid: 'untested', response: 'tested', push: 'tested' } as const;
    const untried = { ...recipe, target: { ...recipe.target, evidence } };
    expect(await shortTextOf(untried)).not.toContain('Known to be bad');
  });

  it('tells mixes that share settings together, with boxes to tick', () => {
    expect(lineWith('Singer')).toMatch(/^\[ \] 3 \[ \] 4 +Singer +\[ \] 1 \[ \] 2 +Guitar$/);
    expect(page.match(/19\.32 kHz/g)).toHaveLength(1);
  });

  it('says that both legs are dialled only where they are', async () => {
    expect(page).toContain('Dial both legs: each output of a pair has filters of its own.');
    const shared = await shortTextOf({ ...recipe, target: { ...recipe.target, stereo: 'legs-share' } });
    expect(shared).not.toMatch(/both legs/i);
    expect(lineWith('Singer', shared)).toMatch(/^\[ \] 3\/4 +Singer/);
  });

  it('gives each filter a line, under what its columns are', () => {
    const at = lines.findIndex((line) => /^ +slot +filter/.test(line));
    expect(lines.slice(at, at + 3).map((line) => line.trim().split(/ {2,}/))).toEqual([
      ['slot', 'filter', 'frequency', 'Q or slope', 'gain'],
      ['cut', 'low cut', '40 Hz (20 up)', '18 dB/oct (1 up)'],
      ['3', 'bell (Para)', '19.32 kHz (1 down)', 'Q 12.0 (top)', '-15.0 dB (bottom)'],
    ]);
  });

  it.each([99, 100])('tells how far off frequencies lie from 100 columns up: %i', async (columns) => {
    const alone = { ...recipe, mixes: recipe.mixes.slice(0, 1) };
    const told = await shortTextOf(alone, target, columns);
    expect(/ \+320 Hz \+28\.9 cents$/m.test(told)).toBe(columns >= 100);
    expect(/ off by$/m.test(told)).toBe(columns >= 100);
  });

  it('leaves clicks out where a line has no room for them, and says who tells them', async () => {
    const narrow = await shortTextOf(recipe, target, 48);
    expect(narrow).not.toMatch(/\d (up|down)\)|In brackets/);
    expect(flat(narrow)).toMatch(/Told by recipe --full: 1 assumption, clicks,/);
    const alone = await shortTextOf(withFirstMix({}));
    expect(alone).toContain('In brackets: clicks from the nearer stop');
    expect(alone).toContain('Told by recipe --full: 1 assumption, how far off each knob lies, cautions.');
  });

  it('puts what takes long to name in lines of its own, and keeps the others in columns', async () => {
    const second = { ...recipe, mixes: recipe.mixes.slice(1, 2) };
    const rows = (await shortTextOf(second, target, 40))
      .split('\n')
      .filter((line) => /Hz|shelf for/.test(line));
    expect(rows.slice(0, 3)).toEqual([
      'cut low cut 40 Hz     18 dB/oct',
      '4   high shelf for high cut',
      '            16.00 kHz Q 0.330 -12.5 dB',
    ]);
  });

  it('tells a verdict in a line: figures beside their limits', async () => {
    expect(lineWith('GUARD MET')).toBe(
      'GUARD MET  pilot 21.4 dB down, 19.1 asked; music 0.9 dB lost, 1.0 at most',
    );
    const wide = await shortTextOf(recipe, target, 90);
    expect(lineWith('FALLS SHORT  ', wide)).toBe(
      'FALLS SHORT  pilot 19.07 dB down of 19.09 asked; music 1.6 dB lost of at most 1.0',
    );
    // Where there is no room they go on below the first figure, none of them broken.
    expect(page).toMatch(
      /^FALLS SHORT {2}pilot 19\.07 dB down of 19\.09 asked;\n {13}music 1\.6 dB lost of/m,
    );
  });

  it.each<[Partial<Guard['worst']>, string]>([
    [{ pilotAttenuationDb: db(19.0939) }, 'pilot 19.0939 dB down of 19.0940 asked; music 0.9'],
    [{ pilotAttenuationDb: db(-5.82) }, 'pilot 5.8 dB up of 19.1 asked; music 0.9'],
    [{ riseDb: db(0.32) }, 'music 0.9 dB lost, 1.0 at most; rise 0.3 dB of at most 0.1'],
    [{ keepLossDb: db(-0.01) }, 'music 0.0 dB lost, 1.0 at most'],
  ])('never rounds a miss to a hit: %o', async (worst, told) => {
    expect(flat(await shortTextOf(withGuard(worst)))).toContain(told);
  });

  it('tells what dialling by hand gives where a line has room, and only where that is another setting', async () => {
    const filters = recipe.mixes[0]?.filters.slice(0, 2) ?? [];
    const nearest = {
      filters,
      worst: { ...guard.worst, pilotAttenuationDb: db(12.34), keepLossDb: db(0.4) },
    };
    const other = withFirstMix({ nearest });
    expect(await shortTextOf(other, target, 100)).toContain('; by hand 12.3 and 0.4 dB');
    expect(await shortTextOf(other, target, 80)).not.toContain('by hand');
    const same = withFirstMix({ nearest: { ...nearest, filters: recipe.mixes[0]?.filters ?? [] } });
    expect(await shortTextOf(same, target, 100)).not.toContain('by hand');
  });

  it('tells mixes to leave alone in a line a reason', () => {
    expect(page).toContain(
      'LEAVE ALONE (digital, no pilot): 7/8 =1+2\nLEAVE ALONE (wired, no pilot): 9 鼓手',
    );
  });

  it('tells problems in full, those that say the same as one', async () => {
    expect(flat(page)).toContain(`1 Drums, "sub": ${recipe.problems[0]?.message} [mixes[1]`);
    const said = { code: 'substitute', message: 'A shelf stands in.' };
    const problems = [0, 4].map((mix) => ({ ...said, path: `mixes[${mix}]` }));
    const merged = await shortTextOf({ ...recipe, problems });
    expect(merged).toContain('1  Singer; Guitar: A shelf stands in. [mixes[0], mixes[4]]');
    expect(merged).toContain('\n1 problem, told above.\n');
  });

  it('sums up last: how many met, which fall short, what there is besides', () => {
    expect(page.slice(page.lastIndexOf('='.repeat(80)) + 81)).toBe(
      [
        '4 mixes to dial: 2 GUARD MET, 1 FALLS SHORT; 2 to leave alone.',
        'FALLS SHORT: Drums, "sub".',
        '1 problem, told above.',
        // The line of the shelf that stands in has no room for clicks.
        'Told by recipe --full: 1 assumption, clicks, how far off each knob lies,',
        '  cautions.',
        '',
      ].join('\n'),
    );
  });

  it('says so where there is nothing to dial, and where no output was named', async () => {
    expect(await shortTextOf(withFirstMix({ filters: [] }))).toContain('no filter found a slot');
    expect(await shortTextOf(withFirstMix({ outputs: [] }))).toContain('[ ] no output named');
  });

  it('tells what an intents file asked for and did not get, and how close the rest comes', async () => {
    const mix = recipe.mixes[5];
    const missing = [{ role: 'air', type: 'highshelf', why: 'no-place' }] as const;
    const told = await shortTextOf(withFirstMix({ ...mix, missing }));
    expect(told).toMatch(/^NO HIGH SHELF, air\nFilters as the intents file asks\.\n/m);
  });
});

describe('verdicts that stand out', () => {
  const inColour = (text: string, verdict: string) =>
    `\u001b[${verdict === 'met' ? 32 : 31}m${text}\u001b[39m`;
  const missing = [{ role: 'low-cut', type: 'highpass', why: 'no-place' }] as const;
  const mixes = recipe.mixes.map((mix, index) => (index === 1 ? { ...mix, missing } : mix));
  const told = { ...recipe, mixes };

  it.each([40, 44, 60, 80, 120])('leave the text as it is without them, at %i columns', async (columns) => {
    for (const full of [false, true]) {
      const plain = await textOf(textForm, told, target, { columns, full });
      const coloured = await textOf(textForm, told, target, { columns, full, emphasise: inColour });
      expect(stripVTControlCharacters(coloured)).toBe(plain);
      const words = coloured
        .split('\u001b[')
        .flatMap((part) => /^(3[12])m(.+)$/s.exec(part)?.slice(1).join(' ') ?? []);
      expect(words).toEqual(
        expect.arrayContaining(['32 GUARD MET', '31 FALLS SHORT', ...(full ? [] : ['31 NO LOW CUT'])]),
      );
      expect(words.filter((word) => !/^(32 (GUARD|MET)|31 (FALLS|SHORT|NO|LOW|CUT))\b/.test(word))).toEqual(
        [],
      );
    }
  });
});

describe('whatever the names', () => {
  const names = ['鼓手と歌手'.repeat(12), 'x'.repeat(150), 'a name of many words '.repeat(9).trim(), '👩‍🎤'];
  const mixes = recipe.mixes.map((mix, index) => ({ ...mix, name: names[index % names.length] ?? '' }));

  it.each([40, 41, 59, 60, 80, 100, 120])('no line is wider than %i columns', async (columns) => {
    for (const of of [recipe, { ...recipe, mixes }, hostileRecipe]) {
      const told = (await shortTextOf(of, target, columns)).split('\n');
      expect(told.filter((line) => displayWidth(line) > columns)).toEqual([]);
      expect(told.filter((line) => /\s$/.test(line))).toEqual([]);
      expect(told.join('')).not.toMatch(/\p{Cc}/u);
    }
  });

  it('has 40 columns in narrower windows, and is no wider than 120', async () => {
    const widest = async (columns: number) =>
      Math.max(...(await shortTextOf(recipe, target, columns)).split('\n').map(displayWidth));
    expect(await widest(12)).toBe(40);
    expect(await widest(300)).toBe(120);
  });

  it('labels are the target’s only where the recipe is the target’s', async () => {
    expect(await shortTextOf(recipe, { ...target, id: 'another' })).not.toContain('(Para)');
  });
});

describe('the rig of the demonstration', () => {
  it('is told in no more than 45 lines of 80 columns, the summary in the last', async () => {
    const on = shipped.get('cut-section.json');
    const rig = readRig(JSON.stringify(demoRig), { source: 'the demo rig' });
    if (!on || !rig.ok) throw new Error('no rig or no target');
    const desk = makeDesk(on);
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const made = makeRecipe(rig.value, desk.value, { fit: protect, spareSlots: 0 });
    if (!made.ok) throw new Error(JSON.stringify(made.error));
    const told = (await shortTextOf(made.value, on)).trimEnd().split('\n');
    // What the text is for: a screen, and not a roll.
    expect(told.length).toBeLessThanOrEqual(45);
    expect(told.slice(-3).join('\n')).toMatch(
      /^7 mixes to dial: \d .*3 to leave alone\.\nTold by recipe --full/,
    );
  });
});
