import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { powerAtPilot } from '../../src/guard/programme.js';

describe('power at the pilot over one channel’s', () => {
  // M = (L + R)/2 in full and S = (L − R)/2 at half its amplitude, powers added; by hand.
  it.each([
    { image: 'identical', expected: 1 },
    { image: 'independent', expected: 5 / 8 },
    { image: 'left-only', expected: 5 / 16 },
    { image: 'right-only', expected: 5 / 16 },
  ] as const)('$image', ({ image, expected }) => {
    expect(powerAtPilot(image)).toBe(expected);
  });

  it('is never more than for mono, whatever two channels of at most that power do', () => {
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    // Two channels as vectors over two unrelated noises: any levels and any correlation there can be.
    fc.assert(
      fc.property(part, part, part, part, (l1, l2, r1, r2) => {
        const unit = (x: number, y: number): readonly [number, number] => {
          const length = Math.max(1, Math.hypot(x, y));
          return [x / length, y / length];
        };
        const [left, right] = [unit(l1, l2), unit(r1, r2)];
        const middle = Math.hypot(left[0] + right[0], left[1] + right[1]) / 2;
        const side = Math.hypot(left[0] - right[0], left[1] - right[1]) / 2;
        expect(middle ** 2 + (side / 2) ** 2).toBeLessThanOrEqual(powerAtPilot('identical') + 1e-12);
      }),
    );
  });
});
