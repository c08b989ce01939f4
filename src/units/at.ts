/**
 * What stands at an index that is known to be inside. Throws RangeError where nothing stands there: a fault of ours,
 * told where it is made, instead of a NaN that surfaces far off. The two differ in nothing but what they look at: one
 * for each keeps V8's loops over numbers as fast as without the check.
 */

const outside = (index: number, length: number): never => {
  throw new RangeError(`nothing stands at ${index} of ${length}`);
};

/** For arrays of doubles. */
export const numberAt = (numbers: Float64Array, index: number): number =>
  numbers[index] ?? outside(index, numbers.length);

/** For everything else. */
export const itemAt = <Item>(items: ArrayLike<Item>, index: number): Item =>
  items[index] ?? outside(index, items.length);
