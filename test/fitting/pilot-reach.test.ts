import { describe, expect, it } from 'vitest';
import { pilotReach } from '../../src/fitting/reach/pilot-reach.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Slot, Target } from '../../src/model/target.js';
import { guardScope } from '../../src/multiplex/guard-scope.js';
import { hz } from '../../src/units/quantity.js';

const deskOf = (slots: readonly Slot[], q: Target['quantisers'][string]) => {
  const desk = makeDesk({
    format: 'bandwright-target/1',
    id: 'test-desk',
    title: 'A desk for tests',
    provenance: 'invented',
    outputs: { count: 8, stereo: 'legs-share' },
    quantisers: { log: { kind: 'geometric', from: 26, to: 21700, count: 179 }, q },
    slots,
    realisations: [{ id: 'cookbook-48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) }],
    display: {},
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

const bell = (gain: number) => ({ id: '1', types: { peaking: { frequency: 'log', q: 'q', gain } } });

/** A W3C cookbook bell at 48 kHz, by plain complex arithmetic: what it takes at a frequency, in dB. */
const cookbookBellTakes = (frequencyHz: number, q: number, gainDb: number, atHz: number): number => {
  const A = 10 ** (gainDb / 40);
  const w0 = (2 * Math.PI * frequencyHz) / 48000;
  const alpha = Math.sin(w0) / (2 * q);
  const w = (2 * Math.PI * atHz) / 48000;
  const power = ([c0, c1, c2]: readonly [number, number, number]): number =>
    (c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w)) ** 2 + (c1 * Math.sin(w) + c2 * Math.sin(2 * w)) ** 2;
  const c1 = -2 * Math.cos(w0);
  return (
    -10 * Math.log10(power([1 + alpha * A, c1, 1 - alpha * A]) / power([1 + alpha / A, c1, 1 - alpha / A]))
  );
};

describe('179 logarithmic points from 26 Hz to 21.7 kHz', () => {
  const below = 26 * (21_700 / 26) ** (174 / 178);
  const above = 26 * (21_700 / 26) ** (175 / 178);
  const reach = pilotReach(deskOf([bell(-15)], { kind: 'table', values: [3, 10] }), guardScope(hz(19000)));

  it('come no nearer to 19 kHz than 18.66 and 19.37 kHz (common practice, no source; by hand)', () => {
    expect(reach.below?.frequencyHz).toBeCloseTo(below, 6);
    expect(reach.above?.frequencyHz).toBeCloseTo(above, 6);
    expect(reach.at).toBeNull();
    expect(reach.nearest).toEqual(reach.below);
    expect(reach.above?.offsetHz).toBeCloseTo(above - 19000, 6);
    expect(reach.above?.offsetCents).toBeCloseTo(1200 * Math.log2(above / 19000), 6);
    expect(reach.above?.offsetFraction).toBeCloseTo(above / 19000 - 1, 9);
  });

  it('let a -15 dB bell of Q 10 take about 5.3 dB, of Q 3 about 12.0 dB (cookbook, 48 kHz)', () => {
    const [one] = reach.byRealisation;
    expect(one?.narrowest?.attenuationDb).toBeCloseTo(5.3, 1);
    expect(one?.narrowest?.attenuationDb).toBeCloseTo(cookbookBellTakes(below, 10, -15, 19000), 9);
    expect(one?.best?.set.frequencyHz).toBeCloseTo(below, 6);
    expect(one?.best?.attenuationDb).toBeCloseTo(12, 1);
    expect(one?.best?.attenuationDb).toBeCloseTo(cookbookBellTakes(below, 3, -15, 19000), 9);
  });
});

describe('the best setting', () => {
  it('is the widest that keeps the music within its limit', () => {
    const values = [0.5, 1, 1.5, 2, 3, 5, 10];
    const scope = guardScope(hz(19000));
    const [one] = pilotReach(deskOf([bell(-15)], { kind: 'table', values }), scope).byRealisation;
    const qChosen = one?.best?.set.q ?? 0;
    const frequencyHz = one?.best?.set.frequencyHz ?? 0;
    const wider = values[values.indexOf(qChosen) - 1] ?? 0;
    expect(cookbookBellTakes(frequencyHz, qChosen, -15, 12000)).toBeLessThanOrEqual(1);
    expect(cookbookBellTakes(frequencyHz, wider, -15, 12000)).toBeGreaterThan(1);
  });

  it('is none where the desk has neither bell nor notch', () => {
    const reach = pilotReach(
      deskOf([{ id: '1', types: { lowpass: { frequency: 'log', slope: 12 } } }], {
        kind: 'table',
        values: [1],
      }),
      guardScope(hz(19000)),
    );
    expect([reach.below, reach.at, reach.above, reach.nearest]).toEqual([null, null, null, null]);
    expect(reach.byRealisation).toMatchObject([{ best: null, narrowest: null }]);
  });
});
