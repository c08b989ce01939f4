import { expect, it } from 'vitest';
import { itemAt, numberAt } from '../../src/units/at.js';

it('what stands at an index', () => {
  expect(numberAt(Float64Array.of(1, Number.NaN), 1)).toBeNaN();
  expect(itemAt(['a', 'b'], 0)).toBe('a');
});

it.each([-1, 2, 0.5, Number.NaN])('nothing stands at %d of 2: a fault of ours', (index) => {
  expect(() => numberAt(Float64Array.of(1, 2), index)).toThrow(RangeError);
  expect(() => itemAt([1, 2], index)).toThrow(RangeError);
});
