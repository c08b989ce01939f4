/**
 * The least integer from `low` up to but excluding `end` at which `holds`, or `end` if there is none.
 * `holds` must be monotone: once true, true for every greater integer.
 */
export const leastWhere = (low: number, end: number, holds: (integer: number) => boolean): number => {
  let [least, bound] = [low, end];
  while (least < bound) {
    // Not `>> 1`: grids have up to 2^32 steps, more than bit operators hold.
    const middle = least + Math.floor((bound - least) / 2);
    if (holds(middle)) bound = middle;
    else least = middle + 1;
  }
  return least;
};
