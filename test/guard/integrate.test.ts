import { describe, expect, it } from 'vitest';
import { integrate } from '../../src/guard/pink-share.js';

describe('integrate', () => {
  // A notch of width w at c: ∫ x²/(x² + w²) is x − w atan(x/w); a textbook integral.
  it.each([0.02, 0.3, 3, 40])('is right for a notch of half-width %d in a window of ±100', (w) => {
    const notch = (places: Float64Array) => places.map((x) => (x - 7) ** 2 / ((x - 7) ** 2 + w * w));
    const whole = 200 - w * (Math.atan(93 / w) + Math.atan(107 / w));
    expect(integrate(notch, -100, 100)).toBeCloseTo(whole, 5);
  });

  it.each([0.3, 3, 40])('is right for a peak of half-width %d', (w) => {
    const peak = (places: Float64Array) => places.map((x) => (w * w) / ((x - 7) ** 2 + w * w));
    expect(integrate(peak, -100, 100)).toBeCloseTo(w * (Math.atan(93 / w) + Math.atan(107 / w)), 6);
  });

  it('is 0 for nothing', () => {
    expect(integrate((places) => new Float64Array(places.length), 0, 1)).toBe(0);
  });
});
