import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { middleOfRegion, narrowed, through, valueExtent } from '../../src/learning/region.js';

const around = (value: number, half: number) => ({ least: value - half, most: value + half });
const clicks = fc.integer({ min: -300, max: 300 });
const half = fc.double({ min: 0.01, max: 5, noNaN: true });
const base = fc.double({ min: -100, max: 100, noNaN: true });
const step = fc.double({ min: 0.05, max: 50, noNaN: true });

describe('what readings leave open of a line', () => {
  it('holds the line they were read of, wherever and however finely', () => {
    fc.assert(
      fc.property(
        base,
        step,
        fc.array(fc.tuple(clicks, half, fc.double({ min: -0.99, max: 0.99, noNaN: true }))),
        (from, each, strips) => {
          let region = through(0, around(from, 1), 7, around(from + 7 * each, 1));
          for (const [at, wide, off] of strips) {
            region = narrowed(region, at, around(from + at * each + off * wide, wide));
          }
          expect(region.length).toBeGreaterThan(0);
          for (const [at] of strips) {
            const { least, most } = valueExtent(region, at);
            const value = from + at * each;
            expect(least).toBeLessThanOrEqual(value + 1e-6);
            expect(most).toBeGreaterThanOrEqual(value - 1e-6);
          }
        },
      ),
    );
  });

  it('holds no line that misses one of them', () => {
    fc.assert(
      fc.property(base, step, clicks, half, (from, each, at, wide) => {
        const strip = around(from + at * each, wide);
        const region = narrowed(through(0, around(from, 20), 9, around(from + 9 * each, 20)), at, strip);
        const middle = middleOfRegion(region);
        for (const line of [...region, middle]) {
          const value = line.base + at * line.step;
          expect(value).toBeGreaterThanOrEqual(strip.least - 1e-6);
          expect(value).toBeLessThanOrEqual(strip.most + 1e-6);
        }
      }),
    );
  });

  it('is nothing where two readings contradict each other', () => {
    const region = through(0, around(10, 0.5), 10, around(20, 0.5));
    expect(narrowed(region, 5, around(17, 0.5))).toEqual([]);
    expect(narrowed(region, 5, around(15, 0.5)).length).toBeGreaterThan(2);
  });
});
