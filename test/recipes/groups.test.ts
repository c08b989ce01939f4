import { describe, expect, it } from 'vitest';
import demoRig from '../../src/cli/demo-rig.json' with { type: 'json' };
import { exporters, fits, makeDesk, makeRecipe, type Recipe, type Rig, readRig } from '../../src/index.js';
import { loadTarget } from '../../src/node/targets.js';

const made = <Value>(outcome: { readonly ok: boolean; readonly value?: Value }): Value => {
  if (!outcome.ok || outcome.value === undefined) throw new Error(JSON.stringify(outcome));
  return outcome.value;
};
const target = made(await loadTarget('cut-section'));
const desk = made(makeDesk(target));
const nearest = fits.find(({ name }) => name === 'nearest');
if (!nearest) throw new Error('there is no fit called nearest');
const demo = made(readRig(JSON.stringify(demoRig), { source: 'the demo rig' }));

const recipeOf = (changes: Partial<Rig>): Recipe =>
  made(makeRecipe({ ...demo, ...changes }, desk, { fit: nearest, spareSlots: 0 }));
const written = (form: string, recipe: Recipe): string =>
  String(
    made(exporters.find(({ name }) => name === form)?.content(recipe, { target, desk }) ?? { ok: false }),
  );

/** Two links that differ in where they end, and a high cut of one's own, so that both get the same. */
const twoEnds = recipeOf({
  systems: {
    near: { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 14000, preEmphasisMicroseconds: 50 },
    far: { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000, preEmphasisMicroseconds: 50 },
  } as unknown as Rig['systems'],
  mixes: [
    { name: 'Thrush', outputs: [1], feeds: 'near' },
    { name: 'Linnet', outputs: [2], feeds: 'far' },
  ],
  intents: [
    { role: 'high-cut', type: 'lowpass', frequencyHz: 13000, slopeDbPerOctave: 12 },
  ] as unknown as NonNullable<Rig['intents']>,
});

/** A mix on whose output no slot is free. */
const bare = recipeOf({
  mixes: demo.mixes.slice(0, 2).map((mix, index) => (index === 0 ? { ...mix, freeSlots: [] } : mix)),
});

describe('mixes that get the same', () => {
  it('are dialled once, whatever their links are otherwise', () => {
    expect(twoEnds.mixes.map(({ audioHighHz }) => audioHighHz)).toEqual([14000, 15000]);
    expect(written('text', twoEnds).match(/^ +low +low cut/gm)).toHaveLength(1);
    expect(written('sheet', twoEnds).match(/<section class="group"/g)).toHaveLength(1);
  });

  it('have one end of a link in their picture only where they agree on it', () => {
    expect(written('svg', twoEnds)).not.toContain('link ends');
    expect(written('svg', recipeOf({}))).toContain('link ends, 15 kHz');
  });
});

describe('a mix on which no filter found a slot', () => {
  it('is none to dial, has no box, and is told', () => {
    const text = written('text', bare);
    expect(text).toMatch(/^1 mix to dial: .*1 with nothing to dial\.$/ms);
    expect(text).toMatch(/^ *1\/2 +Juniper, lead vocal$/m);
    expect(text).toMatch(/^\[ \] 3\/4 +Otter, guitar$/m);
    const sheet = written('sheet', bare);
    expect(sheet.match(/type="checkbox"/g)).toHaveLength(1);
    expect(sheet).toContain('Nothing to dial: no filter found a slot');
  });
});
