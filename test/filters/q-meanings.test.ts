import { describe, expect, it } from 'vitest';
import { qMeanings } from '../../src/filters/realisation.js';
import { qMeaningRules } from '../../src/filters/widths.js';
import { db, q } from '../../src/units/quantity.js';
import { build, complexResponse, dbAt, widthHz } from './measure.js';

const f0 = 1000;
const bell = (meaning: (typeof qMeanings)[number], knobQ: number, gainDb: number) =>
  build({ type: 'peaking', frequencyHz: f0, q: knobQ, gainDb }, 'analogue', null, meaning);

/** The width of a response between two points, as f0 over that width: a Q, measured. */
const measuredQ = (response: (f: number) => number, levelDb: number) => {
  const { lowHz, highHz } = widthHz(response, f0, levelDb, 1e6);
  return f0 / (highHz - lowHz);
};

const halfPowerDb = 10 * Math.log10(0.5);
const qs = [0.5, 1.4, 3, 10];
const gains = [-24, -15, -6, -1, 1, 6, 15];

describe('what the Q of a bell may mean, measured on the analogue bell', () => {
  it.each(gains)('cookbook: f/Q wide between the points of half the gain, %d dB', (gainDb) => {
    for (const knobQ of qs) {
      const sections = bell('cookbook', knobQ, gainDb);
      expect(measuredQ((f) => dbAt(sections, f), gainDb / 2)).toBeCloseTo(knobQ, 6);
    }
  });

  /** H − 1 by itself: what the bell adds to its input or takes from it, in dB below its own peak. */
  const differenceDb = (gainDb: number, sections: ReturnType<typeof bell>) => (f: number) => {
    const [re, im] = complexResponse(sections, f);
    return 20 * Math.log10(Math.hypot(re - 1, im) / Math.abs(10 ** (gainDb / 20) - 1));
  };

  it.each(gains)('constant-bandwidth: what is added or taken is f/Q wide at −3 dB, %d dB', (gainDb) => {
    for (const knobQ of qs) {
      const sections = bell('constant-bandwidth', knobQ, gainDb);
      expect(measuredQ(differenceDb(gainDb, sections), halfPowerDb)).toBeCloseTo(knobQ, 5);
    }
  });

  it.each([
    // The −3 dB width of a cut's own curve is f/Q · √(1 − 2G²).
    [-60, 1e-6],
    [-30, 0.0011],
    [-18, 0.016],
    [-15, 0.033],
  ])('constant-bandwidth: a cut of %d dB is f/Q wide at −3 dB, less a share of %f', (gainDb, share) => {
    for (const knobQ of qs) {
      const sections = bell('constant-bandwidth', knobQ, gainDb);
      const widthShare = knobQ / measuredQ((f) => dbAt(sections, f), halfPowerDb);
      expect(widthShare).toBeLessThan(1 + 1e-9);
      expect(widthShare).toBeGreaterThan(1 - share - 1e-6);
    }
  });

  it.each([1, 6, 15])('classic: a boost of %d dB has poles of that Q, a cut is its mirror', (gainDb) => {
    for (const knobQ of qs) {
      const boost = bell('classic', knobQ, gainDb);
      const cut = bell('classic', knobQ, -gainDb);
      // What a boost adds is the resonance of its poles: (G − 1) times a bandpass of their Q.
      expect(measuredQ(differenceDb(gainDb, boost), halfPowerDb)).toBeCloseTo(knobQ, 5);
      for (const f of [200, 700, 950, 1000, 1300, 5000]) {
        expect(dbAt(boost, f) + dbAt(cut, f)).toBeCloseTo(0, 10);
      }
    }
  });

  it('all agree at 0 dB, and classic with constant-bandwidth on every boost', () => {
    for (const meaning of qMeanings) expect(qMeaningRules[meaning].cookbookQ(q(3), db(0))).toBe(3);
    const boosted = qMeanings.slice(1).map((meaning) => qMeaningRules[meaning].cookbookQ(q(3), db(9)));
    expect(boosted[0]).toBeCloseTo(boosted[1] as number, 12);
  });

  it('says nothing about types other than bells', () => {
    const told = { type: 'notch', frequencyHz: f0, q: 4 };
    for (const meaning of qMeanings) {
      expect(build(told, 'analogue', null, meaning)).toEqual(build(told, 'analogue', null));
    }
  });
});
