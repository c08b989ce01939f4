import { describe, expect, it } from 'vitest';
import { displayValue, knobPosition } from '../../src/model/display.js';
import type { Knob } from '../../src/model/knob.js';
import type { Display } from '../../src/model/target.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { hz, step } from '../../src/units/quantity.js';

const four: Display = {
  frequency: { significantDigits: 4, kiloFromHz: hz(1000) },
  q: { significantDigits: 3 },
  gain: { decimals: 1 },
};

describe('what a desk shows', () => {
  // By hand: rounding to the digits told, zeros kept, since a desk's readout has a fixed number of places.
  it.each([
    { knob: 'frequency', value: 34.7605, display: four, shown: '34.76 Hz' },
    { knob: 'frequency', value: 19321.0176, display: four, shown: '19.32 kHz' },
    { knob: 'frequency', value: 1000, display: four, shown: '1.000 kHz' },
    { knob: 'frequency', value: 999.96, display: four, shown: '1000 Hz' },
    { knob: 'frequency', value: 19321.0176, display: {}, shown: '19321 Hz' },
    { knob: 'frequency', value: 19321.0176, display: { frequency: { decimals: 0 } }, shown: '19321 Hz' },
    { knob: 'q', value: 9.9996, display: four, shown: '10.0' },
    { knob: 'q', value: Math.SQRT1_2, display: four, shown: '0.707' },
    { knob: 'gain', value: -15, display: four, shown: '-15.0 dB' },
    { knob: 'gain', value: 3, display: four, shown: '+3.0 dB' },
    { knob: 'gain', value: -0.04, display: four, shown: '0.0 dB' },
    { knob: 'bandwidth', value: 1 / 3, display: {}, shown: '0.333 oct' },
    { knob: 'slope', value: 12, display: {}, shown: '12 dB/oct' },
  ] as { knob: Knob; value: number; display: Display; shown: string }[])(
    '$knob $value: $shown',
    ({ knob, value, display, shown }) => {
      expect(displayValue(knob, value, display)).toBe(shown);
    },
  );

  it('counts clicks from either stop', () => {
    const grid = makeQuantiser({ kind: 'linear', from: -15, to: 15, step: 0.5 });
    if (!grid.ok) throw new Error(grid.error);
    expect(knobPosition('gain', grid.value, step(0), four)).toEqual({
      index: 0,
      of: 61,
      display: '-15.0 dB',
      fromBottom: 0,
      fromTop: 60,
    });
  });
});
