import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { displayWidth } from '../../src/layout/display-width.js';
import type { Guard } from '../../src/model/recipe.js';
import { db } from '../../src/units/quantity.js';
import { fullTextOf, hostileRecipe, withFirstMix } from './export.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

const page = await fullTextOf();
const lines = page.split('\n');

/** The lines from the one that holds a text up to the next rule. */
const blockWith = (needle: string, of: string = page): string => {
  const block = of.split(/^[-=]{80}$/m).find((part) => part.includes(needle));
  if (block === undefined) throw new Error(`no block holds ${needle}`);
  return block;
};

const lineWith = (needle: string, of: string = page): string =>
  of.split('\n').find((line) => line.includes(needle)) ?? '';

const sharing: typeof recipe = { ...recipe, target: { ...recipe.target, stereo: 'legs-share' } };

const withGuard = (changes: Partial<Guard['worst']>): typeof recipe => {
  const guard = recipe.mixes[0]?.guard as Guard;
  return withFirstMix({ guard: { ...guard, worst: { ...guard.worst, ...changes }, verdict: 'falls-short' } });
};

describe('the page', () => {
  it('says at its top what it is for, and how it stands', () => {
    const [, title, , ...head] = lines;
    expect(title).toBe('Harbour hall, late show');
    expect(head.slice(0, 5).join('\n')).toMatch(/four bells and a cut section \(four-bells\)/);
    expect(head.slice(0, 5).join('\n')).toMatch(/grid untested, response tested, push known-bad/);
    expect(lineWith('result')).toMatch(/4 mixes to dial: 2 GUARD MET, 1 FALLS SHORT; 2 to leave alone/);
    expect(lineWith('short ')).toContain('Drums, "sub"');
  });

  it('does not list every mix where every one falls short', async () => {
    const all = await fullTextOf({ ...recipe, mixes: recipe.mixes.slice(1, 4) });
    expect(lineWith('result', all)).toMatch(/1 mix to dial: 1 FALLS SHORT; 2 to leave alone/);
    expect(all).not.toMatch(/^short /m);
  });

  it('warns before the first filter, and in full at its end', () => {
    const mute = page.indexOf('Mute, or have performers take their in-ears out');
    expect(mute).toBeGreaterThan(0);
    expect(mute).toBeLessThan(page.indexOf('Singer'));
    const cautions = blockWith('CAUTIONS').replace(/\s+/g, ' ');
    for (const part of [
      'Start low',
      'not hearing protection',
      'spectrum authority permits',
      'rules of the house',
    ]) {
      expect(cautions).toContain(part);
    }
  });

  it('is 80 columns wide unless told, ends in one line feed, and trails no blanks', () => {
    expect(lines.filter((line) => displayWidth(line) > 80)).toEqual([]);
    expect(lines.filter((line) => /\s$/.test(line))).toEqual([]);
    expect(page).toMatch(/[^\n]\n$/);
  });

  it('is ASCII wherever the names are', async () => {
    const plain = { ...recipe, mixes: recipe.mixes.filter(({ outputs }) => outputs[0] !== 9) };
    expect(await fullTextOf(plain)).toMatch(/^[\n -~]*$/);
  });
});

describe('a mix', () => {
  it('is named with its outputs, its system and its link', () => {
    expect(lineWith('Singer')).toMatch(/^\[ \] 3 \[ \] 4 +Singer +packs-a, FM stereo$/);
    expect(lineWith('Drums, "sub"', blockWith('[ ] 5'))).toMatch(
      /^\[ \] 5 +Drums, "sub" +packs-a, FM stereo$/,
    );
  });

  it('is dialled leg by leg where the legs are separate, and once where they share', async () => {
    expect(blockWith('Singer')).toContain('dial both legs');
    expect(blockWith('[ ] 5')).not.toContain('dial both legs');
    const shared = await fullTextOf(sharing);
    expect(lineWith('Singer', shared)).toMatch(/^\[ \] 3\/4 +Singer/);
    expect(shared).not.toContain('dial both legs');
  });

  it('shares a block with the mixes that get the same, and with no other', () => {
    expect(blockWith('Singer')).toContain('Guitar');
    expect(blockWith('Singer')).not.toContain('Drums');
    expect(page.match(/19\.32 kHz/g)).toHaveLength(1);
  });

  it('shows each filter as the desk does, clicks and error beneath', () => {
    const block = blockWith('Singer');
    const rows = block.split('\n').map((line) => line.trim().split(/ {2,}/));
    const at = rows.findIndex(([slot]) => slot === '3');
    expect(rows.slice(at, at + 3)).toEqual([
      ['3', 'bell (Para)', '19.32 kHz', 'Q 12.0', '-15.0 dB'],
      ['clicks', '1 down', 'top stop', 'bottom stop'],
      ['off by', '+320 Hz +28.9 cents', 'Q x 1.20', '+3 dB'],
    ]);
    expect(rows).toContainEqual(['cut', 'low cut', '40 Hz', '18 dB/oct']);
    expect(rows).toContainEqual(['clicks', '20 up', '1 up']);
    expect(rows).toContainEqual(['off by', '+6 dB/oct']);
  });

  it('puts each clicks and error under the value it belongs to', () => {
    const block = blockWith('Singer').split('\n');
    const at = block.findIndex((line) => line.startsWith('3 '));
    const [values = '', clicks = '', errors = ''] = block.slice(at, at + 3);
    for (const [value, click, error] of [
      ['19.32 kHz', '1 down', '+320 Hz'],
      ['Q 12.0', 'top stop', 'Q x 1.20'],
      ['-15.0 dB', 'bottom stop', '+3 dB'],
    ] as const) {
      expect(clicks.indexOf(click)).toBe(values.indexOf(value));
      expect(errors.indexOf(error)).toBe(values.indexOf(value));
    }
  });

  it('tells a substitute from what was asked, and a role of the user’s own', () => {
    expect(blockWith('[ ] 5').replace(/\s+/g, ' ')).toMatch(/high shelf for .*high.* cut/);
    expect(page).toContain('notch, stage-hum');
  });

  it('has no clicks for what nobody counts, and no error where there is none', () => {
    const block = blockWith('-Talkback');
    expect(block).not.toMatch(/700000|1299999/);
    expect(block).toContain('-0.003 Hz -0.1 cents');
    expect(block.slice(block.indexOf('120 Hz'))).not.toContain('off by');
  });

  it('calls a knob of one value fixed', () => {
    expect(blockWith('[ ] 5')).toMatch(/clicks +6 down +fixed +5 up/);
  });

  it('says so when there is nothing to dial', async () => {
    expect(await fullTextOf(withFirstMix({ filters: [] }))).toContain('no filter found a slot');
  });

  it('says so when no output was named', async () => {
    expect(await fullTextOf(withFirstMix({ outputs: [] }))).toContain('[ ] no output named');
  });

  it('left alone is one line under the reason', () => {
    const block = blockWith('LEAVE ALONE: A digital link has no pilot');
    expect(lineWith('=1+2', block)).toMatch(/^7\/8 +=1\+2 +packs-d, digital$/);
  });
});

describe('the guard', () => {
  it('that is met shows each figure against what was asked, and how many ways it was worked out', () => {
    const block = blockWith('Singer');
    expect(block).toMatch(/^GUARD MET +in the worst of 3 ways/m);
    expect(block).toMatch(/^ +pilot +21\.4 dB down at 19 kHz \+-100 Hz; at least 19\.1 dB asked$/m);
    expect(block).toMatch(/^ +\+17\.4 to \+32\.4 dB over pink noise; was -4\.0 to \+10\.9 dB;$/m);
    expect(block).toMatch(/^ +lined up at -12 dBFS it over-deviates without them$/m);
    expect(block).toMatch(/^ +music +0\.9 dB lost, 80 Hz to 12 kHz; at most 1\.0 dB asked$/m);
    expect(block).toMatch(/^ +rise +0\.0 dB; at most 0\.1 dB asked$/m);
  });

  it('that falls short says by how much', () => {
    const block = blockWith('[ ] 5');
    expect(block).toMatch(/^FALLS SHORT +pilot by 0\.02 dB, music by 0\.6 dB, in the one way/m);
    expect(block).toMatch(/rise +none/);
  });

  it('tells one figure over pink noise where nothing is open, and that nothing of it is there', async () => {
    expect(blockWith('[ ] 5')).toMatch(/^ +\+14\.9 dB over pink noise; was/m);
    const silent = await fullTextOf(withGuard({ pilotToProgrammeDb: null }));
    expect(silent).toMatch(/^ +nothing of pink noise falls into its window; was/m);
  });

  it('never hides a filter that is not there behind a guard that is met, there and in the result', async () => {
    const missing = [{ role: 'low-cut', type: 'highpass', why: 'no-place' }] as const;
    const without = await fullTextOf(withFirstMix({ missing }));
    expect(without).toMatch(/^GUARD MET +NO LOW CUT, in the worst of 3 ways/m);
    expect(lineWith('result', without)).toMatch(/1 GUARD MET; NO LOW CUT$/);
  });

  it('tells what the filters as asked would cost where no limit is stated', async () => {
    const guard = recipe.mixes[0]?.guard as Guard;
    const limits = { ...guard.limits, keepLossAsAskedDb: db(1.85), keepLossAtMostDb: db(3) };
    const told = await fullTextOf(withFirstMix({ guard: { ...guard, limits } }));
    expect(told).toMatch(/^ +music +0\.9 dB lost, 80 Hz to 12 kHz; 1\.9 dB as asked, 3\.0 dB at\s+most$/m);
  });

  it.each([
    [19.0939, /pilot by 0\.0001 dB/, /19\.0939 dB down .* at least 19\.0940 dB\s+asked/],
    [19.05, /pilot by 0\.04 dB/, /19\.05 dB down .* at least 19\.09 dB asked/],
    [4, /pilot by 15\.1 dB/, /4\.0 dB down .* at least 19\.1 dB asked/],
    [-0.01, /pilot by 19\.1 dB/, /^ +pilot +0\.0 dB down/m],
  ])('never rounds %f dB to what was asked', async (pilotAttenuationDb, reason, figure) => {
    const short = await fullTextOf(withGuard({ pilotAttenuationDb: db(pilotAttenuationDb) }));
    expect(short).toMatch(reason);
    expect(short).toMatch(figure);
  });
});

describe('the notes', () => {
  it('are numbered, wrapped, and name the mix they are about', () => {
    const block = blockWith('PROBLEMS').replace(/\s+/g, ' ');
    expect(block).toContain('1 Drums, "sub": Slot 4 has no high cut while it is linked;');
    expect(block).toContain('[mixes[1].filters[1], rig.json:12:7]');
    expect(blockWith('ASSUMPTIONS')).toContain('1  Not given: 19 kHz is taken. [systems.packs-a.pilotHz]');
  });

  it('that say the same are one, about all their mixes', async () => {
    const said = { code: 'substitute', message: 'A shelf stands in.' };
    const problems = [0, 4].map((mix) => ({ ...said, path: `mixes[${mix}]` }));
    const block = blockWith('PROBLEMS', await fullTextOf({ ...recipe, problems }));
    expect(block).toContain('1  Singer; Guitar: A shelf stands in. [mixes[0], mixes[4]]');
    expect(block.match(/stands in/g)).toHaveLength(1);
  });

  it('are left out where there are none', async () => {
    const quiet = await fullTextOf({ ...recipe, problems: [], assumptions: [] });
    expect(quiet).not.toMatch(/PROBLEMS|ASSUMPTIONS/);
  });
});

describe('whatever the names', () => {
  it('no line is wider, and every name can be read', async () => {
    const names = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 200 });
    await fc.assert(
      fc.asyncProperty(names, names, async (name, system) => {
        const shown = await fullTextOf(withFirstMix({ name, system }));
        expect(shown.split('\n').filter((line) => displayWidth(line) > 80)).toEqual([]);
      }),
    );
  });

  it('a long name goes on in the next line of its own column', async () => {
    const name = 'Second keyboards and percussion, stage left riser, in a cabinet behind the curtain';
    const shown = await fullTextOf(withFirstMix({ name }));
    const head = blockWith('Second keyboards', shown).split('\n').slice(1, 3);
    expect(head[0]).toMatch(/^\[ \] 3 \[ \] 4 +Second keyboards .* packs-a, FM stereo$/);
    expect(head[1]?.indexOf(head[1].trim())).toBe(head[0]?.indexOf('Second'));
  });

  it('hostile text is shown as escapes', async () => {
    const shown = await fullTextOf(hostileRecipe);
    expect(shown).toContain('\\u{1b}[31mred');
    expect(shown).toContain('\\u{202e}');
    expect(shown.split('\n').filter((line) => displayWidth(line) > 80)).toEqual([]);
  });

  it('labels are the target’s only where the recipe is the target’s', async () => {
    const other = await fullTextOf(recipe, { ...target, id: 'another' });
    expect(other).not.toContain('(Para)');
  });
});
