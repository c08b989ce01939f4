import { describe, expect, it } from 'vitest';
import { digitsOf, simplestIn } from '../../src/learning/simplest.js';

describe('the simplest number in an interval', () => {
  // Fewest digits, then zeros, fives and even numbers, then nearest to the middle: worked out by hand.
  it.each([
    [19_995, 20_005, 20_000],
    [18_665, 18_675, 18_670],
    [0.395, 0.405, 0.4],
    [-0.5, 0.5, 0],
    [-15.05, -14.95, -15],
    [1.1, 1.9, 1.5],
    [3.1, 4.9, 4],
    [19_330, 19_370, 19_350],
    [7, 7, 7],
  ])('from %d to %d is %d', (least, most, simplest) => {
    expect(simplestIn({ least, most })).toBe(simplest);
  });

  it('does not exist where there is none', () => {
    expect(() => simplestIn({ least: 2, most: 1 })).toThrow(RangeError);
  });

  it.each([
    [20_000, 1],
    [19.3, 3],
    [0.05, 1],
    [-14.5, 3],
    [100.5, 4],
  ])('%d takes %d digits to say', (value, digits) => {
    expect(digitsOf(value)).toBe(digits);
  });
});
