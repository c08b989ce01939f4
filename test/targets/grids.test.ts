import { describe, expect, it } from 'vitest';
import type { Knob } from '../../src/model/knob.js';
import type { Target } from '../../src/model/target.js';
import {
  bellFrequenciesHz,
  bottomOf,
  firstGridOf,
  gridOf,
  gridsOf,
  offers,
  offersType,
  theTargetWith,
  topOf,
  turningKnobs,
  valuesOf,
} from './shipped.js';

const pilotHz = 19000;

const hasGrid = (target: Target, knob: Knob, kind: string): boolean =>
  turningKnobs(target).some(
    (turning) => turning.knob === knob && target.quantisers[turning.reference]?.kind === kind,
  );

describe('grids of the shipped targets, by their sources', () => {
  it('179 logarithmic points from 26 Hz to 21.7 kHz, whose nearest to 19 kHz are 18.66 and 19.37 kHz (invented)', () => {
    const target = theTargetWith((each) => gridsOf(each, 'frequency').some(({ count }) => count === 179));
    expect(target.id).toBe('log-179');
    const frequenciesHz = bellFrequenciesHz(target);
    expect([frequenciesHz[0], frequenciesHz[178]]).toEqual([26, 21_700]);
    for (let i = 0; i < 178; i++) {
      expect((frequenciesHz[i + 1] ?? 0) / (frequenciesHz[i] ?? 1)).toBeCloseTo(
        (21_700 / 26) ** (1 / 178),
        9,
      );
    }
    // 26 · (21700/26)^(k/178): k = 174 18655.6 Hz, 31.7 cents below the pilot; k = 175 19374.1 Hz, 33.8 cents above.
    const above = frequenciesHz.findIndex((frequencyHz) => frequencyHz > pilotHz);
    const aroundHz = frequenciesHz.slice(above - 1, above + 1).map((value) => value.toFixed(1));
    expect([above, ...aroundHz]).toEqual([175, '18655.6', '19374.1']);
    const qs = valuesOf(firstGridOf(target, 'q'));
    expect([qs.length, qs[0], qs[57]]).toEqual([58, 0.33, 10.6]);
    expect(valuesOf(firstGridOf(target, 'gain')).slice(0, 3)).toEqual([-16.5, -15.75, -15]);
    expect(topOf(firstGridOf(target, 'gain'))).toBe(9);
    expect(offersType(target, 'notch')).toBe(false);
    expect(target.slots).toHaveLength(4);
    for (const { types } of target.slots) {
      expect(Object.keys(types).sort()).toEqual(['highpass', 'highshelf', 'lowpass', 'lowshelf', 'peaking']);
    }
  });

  it('one third octave: the 31 nominal frequencies of ISO 266:1997 from 20 Hz to 20 kHz, and nothing but bells', () => {
    const target = theTargetWith((each) =>
      offers(each).every(({ knobs }) => typeof knobs.frequency === 'number'),
    );
    // ISO 266:1997, nominal one-third-octave frequencies.
    expect(bellFrequenciesHz(target)).toEqual([
      20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
      2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
    ]);
    expect(new Set(offers(target).map(({ type }) => type))).toEqual(new Set(['peaking']));
    // W3C Audio EQ Cookbook: 1/Q = 2 sinh(ln 2 / 2 · BW) for a bell's width between midpoint-gain points.
    const thirdOctaveQ = 1 / (2 * Math.sinh(Math.LN2 / 6));
    for (const { knobs } of offers(target)) expect(knobs.q).toBe(Number(thirdOctaveQ.toPrecision(4)));
    expect([bottomOf(firstGridOf(target, 'gain')), topOf(firstGridOf(target, 'gain'))]).toEqual([-12, 12]);
  });

  it.each([6, 12, 24])('1/%i octave: the exact mid-band frequencies of IEC 61260-1:2014', (fraction) => {
    const target = theTargetWith((each) =>
      Object.values(each.quantisers).some(
        (spec) => spec.kind === 'octave-fraction' && spec.fraction === fraction,
      ),
    );
    // IEC 61260-1:2014, equations 1 and 3 (even denominators): f = 1000 · G^((2x + 1) / 2b), G = 10^(3/10).
    const exactHz = Array.from(
      { length: 400 },
      (_, i) => 1000 * 10 ** ((0.3 * (2 * (i - 200) + 1)) / (2 * fraction)),
    );
    const withinHz = exactHz.filter((frequencyHz) => frequencyHz >= 20 && frequencyHz <= 20000);
    const frequenciesHz = bellFrequenciesHz(target);
    expect(frequenciesHz).toHaveLength(withinHz.length);
    frequenciesHz.forEach((frequencyHz, i) => {
      expect(frequencyHz / (withinHz[i] ?? 0)).toBeCloseTo(1, 12);
    });
  });

  it('R40 of ISO 3, 15 and 19 kHz among them', () => {
    const target = theTargetWith((each) => hasGrid(each, 'frequency', 'preferred-numbers'));
    // ISO 3:1973, series R40: from memory, and as independent public listings repeat it.
    const r40 = [
      1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3,
      3.15, 3.35, 3.55, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5,
    ];
    const expectedHz = [10, 100, 1000, 10000].flatMap((decade) =>
      r40.map((number) => Number((number * decade).toPrecision(3))).filter((f) => f >= 20 && f <= 20000),
    );
    expect(bellFrequenciesHz(target)).toEqual(expectedHz);
    expect(expectedHz).toEqual(expect.arrayContaining([15000, 18000, pilotHz, 20000]));
  });

  it('three significant digits: 900 values to the decade, 19.0 and 19.1 kHz neighbours', () => {
    const target = theTargetWith((each) => hasGrid(each, 'frequency', 'significant-digits'));
    const frequenciesHz = bellFrequenciesHz(target);
    expect(frequenciesHz.filter((f) => f >= 100 && f < 1000)).toHaveLength(900);
    expect(frequenciesHz.filter((f) => Number(f.toPrecision(3)) !== f)).toEqual([]);
    const at = frequenciesHz.indexOf(pilotHz);
    expect(frequenciesHz.slice(at - 1, at + 2)).toEqual([18900, 19000, 19100]);
  });

  it('steps of 0.1, 1, 10 and 100 Hz by decade', () => {
    const target = theTargetWith((each) => hasGrid(each, 'frequency', 'piecewise-linear'));
    const frequenciesHz = bellFrequenciesHz(target);
    const after = (frequencyHz: number) => frequenciesHz[frequenciesHz.indexOf(frequencyHz) + 1];
    expect([20, 100, 300, 1000, 3000, 10000, 19000].map(after)).toEqual([
      20.1, 101, 301, 1010, 3010, 10100, 19100,
    ]);
  });

  it('every whole hertz, Q to 30, and a true notch', () => {
    const target = theTargetWith((each) => hasGrid(each, 'frequency', 'linear'));
    expect(bellFrequenciesHz(target)).toHaveLength(20000 - 20 + 1);
    expect(topOf(firstGridOf(target, 'q'))).toBe(30);
    expect(offersType(target, 'notch')).toBe(true);
  });

  it('128 steps on every knob, and the width in octaves', () => {
    const target = theTargetWith((each) => turningKnobs(each).some(({ knob }) => knob === 'bandwidth'));
    const counts = turningKnobs(target).map(({ reference }) => gridOf(target, reference).count);
    expect(new Set(counts)).toEqual(new Set([128]));
    const travels = Object.values(target.osc?.encodings ?? {}).map((encoding) => encoding.as);
    expect(new Set(travels)).toEqual(new Set(['index', 'fraction']));
    expect(target.osc?.read).toBe('none');
  });

  it('no grid at all: frequency, Q and gain are floats, and floats travel', () => {
    const target = theTargetWith((each) => hasGrid(each, 'frequency', 'continuous'));
    for (const knob of ['frequency', 'q', 'gain'] as const) {
      expect(hasGrid(target, knob, 'continuous')).toBe(true);
      expect(target.osc?.encodings[knob]?.type).toBe('f');
    }
  });
});
