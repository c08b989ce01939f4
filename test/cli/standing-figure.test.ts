import { describe, expect, it } from 'vitest';
import { standingFigure } from '../../src/cli/inspect/standing-figure.js';
import type { Filter } from '../../src/filters/filter.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import type { InspectedMix, InspectedOutput } from '../../src/live/inspect/inspection.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Rig } from '../../src/model/rig.js';
import { db, hz, q } from '../../src/units/quantity.js';
import { bell, mixOf, targetWith } from '../analysis/hand-made.js';
import { inColour, linesOf, number, sidesOf, textsOf, within } from '../drawing/elements.js';

const desk = makeDesk(targetWith(2));
if (!desk.ok) throw new Error('no desk');

const dipAt = (frequencyHz: number): Filter => ({
  type: 'peaking',
  frequencyHz: hz(frequencyHz),
  q: q(4),
  gainDb: db(-12),
});

/** A bell stands at 1 kHz; its recipe has the same slot at 10 kHz. */
const read: InspectedOutput = {
  output: 1,
  state: 'at-risk',
  slots: [{ slot: '1', view: null, state: 'acts', filter: dipAt(1000) } as InspectedOutput['slots'][number]],
  byRealisation: [],
  worst: mixOf({ pilotDb: 0 }).guard?.worst ?? null,
  verdict: 'falls-short',
  recipe: { stands: false, toSet: [], pilotAttenuationDb: db(0), keepLossDb: db(0) },
  findings: [],
};
const mix = {
  name: 'Wren',
  outputs: [1, 2],
  state: 'at-risk',
  scope: guardScope(hz(19000)),
  keepLossAsAskedDb: null,
  recipe: { filters: [{ ...bell('1', {}), set: dipAt(10000) }], missing: [] },
  read: [read],
} as unknown as InspectedMix;

/** The link that the mix feeds ends at 14 kHz. */
const standing = {
  desk: desk.value,
  rig: {
    mixes: [{ name: 'Wren', outputs: [1, 2], feeds: 'packs' }],
    systems: { packs: { link: 'fm-stereo', audioLowHz: hz(40), audioHighHz: hz(14000) } },
  } as unknown as Rig,
};

describe('the picture of what stands', () => {
  const figure = standingFigure(mix, read, standing) ?? expect.fail('no picture');
  const [whole] = within(figure).filter((each) => each !== figure && each.name === 'svg');
  if (!whole) throw new Error('no panel');

  /** The frequency at which a line is lowest, by ratio over 20 Hz to 22 kHz. */
  const lowestHz = (colour: string): number => {
    const [left, right] = sidesOf(whole);
    const [line = []] = inColour(whole, colour).map(({ attributes }) => linesOf(String(attributes.d))[0]);
    const [x] = line.reduce((low, spot) => (spot[1] > low[1] ? spot : low), [0, 0]);
    return 20 * (22000 / 20) ** ((number(x) - left) / (right - left));
  };

  it('draws what stands as such, and its recipe beside it', () => {
    expect(Math.abs(lowestHz('stroke-set') / 1000 - 1)).toBeLessThan(0.02);
    expect(Math.abs(lowestHz('stroke-asked') / 10000 - 1)).toBeLessThan(0.02);
    expect(textsOf(figure)).toEqual(
      expect.arrayContaining([
        'stands, built worst for the pilot',
        'its recipe, built worst for the pilot',
        'link ends, 14 kHz',
      ]),
    );
  });

  it('is none where something of it is not known', () => {
    expect(standingFigure(mix, { ...read, worst: null }, standing)).toBeNull();
  });
});
