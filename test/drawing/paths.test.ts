import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaPath, linePath, type Spot } from '../../src/drawing/paths.js';
import { linesOf } from './elements.js';

const toSegment = ([x, y]: Spot, [fromX, fromY]: Spot, [toX, toY]: Spot): number => {
  const [acrossX, acrossY] = [toX - fromX, toY - fromY];
  const square = acrossX ** 2 + acrossY ** 2;
  const share = square === 0 ? 0 : ((x - fromX) * acrossX + (y - fromY) * acrossY) / square;
  const near = Math.min(1, Math.max(0, share));
  return Math.hypot(x - fromX - near * acrossX, y - fromY - near * acrossY);
};

const toLine = (place: Spot, line: readonly Spot[]): number =>
  Math.min(...line.slice(1).map((to, index) => toSegment(place, line[index] as Spot, to)));

/** Less than anybody sees: a fifth of a unit where the picture is 360 wide. */
const mostUnits = 0.2;

/** Curves as responses are: x goes on, y does what it likes, smoothly or not. */
const curves = fc
  .tuple(
    fc.array(
      fc.tuple(fc.double({ min: 0.05, max: 9, noNaN: true }), fc.double({ min: -20, max: 180, noNaN: true })),
      {
        minLength: 2,
        maxLength: 60,
      },
    ),
    fc.constantFrom(1, 0.1, 0.01),
  )
  .map(([steps, height]) => {
    let x = 0;
    return steps.map(([by, y]): Spot => {
      x += by;
      return [x, 80 + (y - 80) * height];
    });
  });

describe('paths', () => {
  it('lie within a fifth of a unit of every place they leave out, and of every place they keep', () => {
    fc.assert(
      fc.property(curves, (places) => {
        const lines = linesOf(linePath(places));
        expect(lines).toHaveLength(1);
        const [line = []] = lines;
        expect(Math.max(...places.map((place) => toLine(place, line)))).toBeLessThan(mostUnits);
        expect(Math.max(...line.map((place) => toLine(place, places)))).toBeLessThan(mostUnits);
      }),
    );
  });

  it('leave out what lies on a line, and nothing that does not', () => {
    const straight = Array.from({ length: 200 }, (_, index): Spot => [index, 50 + index / 4]);
    expect(linesOf(linePath(straight))[0]).toHaveLength(2);
    const bent = straight.map(([x, y], index): Spot => [x, index === 100 ? y + 1 : y]);
    expect(linesOf(linePath(bent))[0]?.length).toBeGreaterThan(3);
  });

  it('break where nothing is known', () => {
    const gap: readonly Spot[] = [
      [0, 0],
      [10, 5],
      [20, Number.NaN],
      [30, 5],
      [40, 9],
      [50, Number.NaN],
    ];
    expect(linesOf(linePath(gap))).toEqual([
      [
        [0, 0],
        [10, 5],
      ],
      [
        [30, 5],
        [40, 9],
      ],
    ]);
    expect(linePath([[0, Number.NaN]])).toBe('');
  });

  it('hold the area between two curves', () => {
    fc.assert(
      fc.property(curves, fc.double({ min: 0, max: 30, noNaN: true }), (upper, depth) => {
        const lower = upper.map(([x, y]): Spot => [x, y + depth]);
        const data = areaPath(upper, lower);
        expect(data).toMatch(/z$/i);
        const [outline = []] = linesOf(data);
        const closed = [...outline, outline[0] as Spot];
        for (const place of [...upper, ...lower]) expect(toLine(place, closed)).toBeLessThan(mostUnits);
      }),
    );
  });
});
