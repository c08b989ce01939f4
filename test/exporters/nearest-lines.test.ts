import { describe, expect, it } from 'vitest';
import { nearestLines } from '../../src/exporters/text/nearest-lines.js';
import type { Band, RecipeMix } from '../../src/model/recipe.js';
import { db, hz, q, step } from '../../src/units/quantity.js';
import { recipe } from './fixture.js';

const mix = recipe.mixes[0] as RecipeMix;
const guard = mix.guard as NonNullable<RecipeMix['guard']>;
const pilotCut = mix.bands.find(({ role }) => role === 'pilot-cut') as Band;

/** The mix beside a nearest fit that differed by the changes given. */
const beside = (bands: readonly Band[], pilotDb: number, lossDb: number): string =>
  nearestLines({
    ...mix,
    nearest: {
      bands,
      worst: {
        ...guard.worst,
        pilotAttenuationDb: db(guard.worst.pilotAttenuationDb - pilotDb),
        keepLossDb: db(guard.worst.keepLossDb - lossDb),
      },
    },
  })
    .join(' ')
    .replace(/\s+/g, ' ')
    .trim();

const otherStep: Band = {
  ...pilotCut,
  set: { ...pilotCut.set, frequencyHz: hz(18665), q: q(10) },
  steps: {
    ...pilotCut.steps,
    frequency: { index: step(174), of: 177, display: '18.67 kHz', fromBottom: 174, fromTop: 2 },
  },
};

const others = mix.bands.filter(({ role }) => role !== 'pilot-cut');

describe('what moved away from the nearest steps', () => {
  it('says nothing where nothing moved', () => {
    expect(beside(mix.bands, 0, 0)).toBe('');
  });

  it('tells the knob that moved, from where to where, and what it bought and cost', () => {
    const told = beside([...others, otherStep], 6.24, -0.31);
    expect(told).toContain(`bell 18.67 kHz to ${pilotCut.steps.frequency?.display}`);
    expect(told).toContain('6.2 dB more at the pilot');
    expect(told).toContain('0.3 dB less music lost');
  });

  it('tells a filter that was added', () => {
    expect(beside(others, 12, 0.2)).toMatch(
      /a bell added.*12\.0 dB more at the pilot, 0\.2 dB more music lost/,
    );
  });

  it('stays within the page', () => {
    const lines = nearestLines({ ...mix, nearest: { bands: [otherStep], worst: guard.worst } });
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(78);
  });
});
