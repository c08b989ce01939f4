import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Cost, cheapestAssignment, compareCosts } from '../../src/fitting/nearest/assignment.js';

const total = (costs: readonly (readonly Cost[])[], columns: readonly number[]): Cost =>
  columns
    .map((column, row) => costs[row]?.[column] ?? [])
    .reduce((sum, cost) => sum.map((part, i) => part + (cost[i] ?? 0)));

/** Every way of giving each row a column of its own, tried one by one. */
const bruteForce = (costs: readonly (readonly Cost[])[]): Cost => {
  const columns = costs[0]?.length ?? 0;
  let best: Cost | undefined;
  const visit = (chosen: readonly number[]): void => {
    if (chosen.length === costs.length) {
      const sum = total(costs, chosen);
      if (!best || compareCosts(sum, best) < 0) best = sum;
      return;
    }
    for (let column = 0; column < columns; column++) {
      if (!chosen.includes(column)) visit([...chosen, column]);
    }
  };
  visit([]);
  if (!best) throw new Error('nothing to assign');
  return best;
};

const matrix = fc
  .record({ rows: fc.integer({ min: 1, max: 5 }), spare: fc.integer({ min: 0, max: 2 }) })
  .chain(({ rows, spare }) =>
    fc.array(
      fc.array(fc.tuple(fc.integer({ min: 0, max: 2 }), fc.integer({ min: -9, max: 9 })), {
        minLength: rows + spare,
        maxLength: rows + spare,
      }),
      { minLength: rows, maxLength: rows },
    ),
  );

describe('cheapest assignment', () => {
  it('is as cheap as the best of all ways tried one by one', () => {
    fc.assert(
      fc.property(matrix, (costs) => {
        const columns = cheapestAssignment(costs);
        expect(new Set(columns).size).toBe(costs.length);
        expect(total(costs, columns)).toEqual(bruteForce(costs));
      }),
      { numRuns: 500 },
    );
  });

  it('solves the worked example of four workers and four jobs', () => {
    // A common textbook example of the Hungarian method; its optimum, 13, is checked above by brute force too.
    const costs = [
      [9, 2, 7, 8],
      [6, 4, 3, 7],
      [5, 8, 1, 8],
      [7, 6, 9, 4],
    ].map((row) => row.map((cost) => [cost]));
    expect(total(costs, cheapestAssignment(costs))).toEqual([13]);
  });

  it('refuses more rows than columns', () => {
    expect(() => cheapestAssignment([[[1]], [[1]]])).toThrow(RangeError);
  });
});
