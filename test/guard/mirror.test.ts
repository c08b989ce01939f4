import { describe, expect, it } from 'vitest';
import { landings, mirroredHz } from '../../src/guard/programme.js';
import { hz } from '../../src/units/quantity.js';

describe('mirror rule', () => {
  // 47 CFR 73.322(a): the difference channel amplitude-modulates a subcarrier at 38 kHz, so by trigonometry
  // f goes to 38 kHz − f and 38 kHz + f; by hand.
  it.each([
    { programmeHz: 1000, lowerHz: 37000, upperHz: 39000 },
    { programmeHz: 15000, lowerHz: 23000, upperHz: 53000 },
    { programmeHz: 16000, lowerHz: 22000, upperHz: 54000 },
    { programmeHz: 18000, lowerHz: 20000, upperHz: 56000 },
    { programmeHz: 18980, lowerHz: 19020, upperHz: 56980 },
    { programmeHz: 19000, lowerHz: 19000, upperHz: 57000 },
    { programmeHz: 20000, lowerHz: 18000, upperHz: 58000 },
    { programmeHz: 22000, lowerHz: 16000, upperHz: 60000 },
    { programmeHz: 23000, lowerHz: 15000, upperHz: 61000 },
    { programmeHz: 40000, lowerHz: 2000, upperHz: 78000 },
  ])('$programmeHz Hz, pilot at 19 kHz', ({ programmeHz, lowerHz, upperHz }) => {
    expect(landings(hz(programmeHz), hz(19000))).toEqual([
      { route: 'sum', frequencyHz: programmeHz, amplitude: 1 },
      { route: 'difference-lower', frequencyHz: lowerHz, amplitude: 0.5 },
      { route: 'difference-upper', frequencyHz: upperHz, amplitude: 0.5 },
    ]);
  });

  it('goes with the pilot: pilot − d arrives at pilot ∓ d', () => {
    expect(landings(hz(17900), hz(18000)).map(({ frequencyHz }) => frequencyHz)).toEqual([
      17900, 18100, 53900,
    ]);
  });

  it('mirrors twice into itself, and the pilot into itself', () => {
    expect(mirroredHz(mirroredHz(hz(18321), hz(19000)), hz(19000))).toBe(18321);
    expect(mirroredHz(hz(19000), hz(19000))).toBe(19000);
  });
});
