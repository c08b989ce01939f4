/**
 * A cost whose parts are compared one after the other, the first mattering most. Sums are taken part by
 * part, so that costs of several placements can be added and still be compared the same way.
 */
export type Cost = readonly number[];

const add = (a: Cost, b: Cost): Cost => a.map((part, i) => part + (b[i] ?? 0));
const subtract = (a: Cost, b: Cost): Cost => a.map((part, i) => part - (b[i] ?? 0));

/** Negative where `a` is cheaper. */
export const compareCosts = (a: Cost, b: Cost): number => {
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] ?? 0) - (b[i] ?? 0);
    if (difference !== 0) return difference;
  }
  return 0;
};

/**
 * The cheapest assignment of every row to a column of its own: `result[row]` is the column.
 *
 * Kuhn's Hungarian method with potentials, growing shortest augmenting paths (H. W. Kuhn, "The Hungarian
 * method for the assignment problem", Naval Research Logistics Quarterly 2, 1955): exact, and in time
 * rows² × columns. It uses of costs only that they can be added, subtracted and ordered, and that the order
 * survives addition; costs compared part by part have all of that.
 *
 * Throws RangeError where there are fewer columns than rows.
 */
export const cheapestAssignment = (costs: readonly (readonly Cost[])[]): readonly number[] => {
  const rows = costs.length;
  const columns = costs[0]?.length ?? 0;
  if (columns < rows) throw new RangeError(`${rows} rows cannot have a column each of ${columns}`);
  const parts = costs[0]?.[0]?.length ?? 0;
  const nothing: Cost = new Array<number>(parts).fill(0);

  // Row and column 0 stand for "none"; real ones count from 1.
  const rowPotential: Cost[] = new Array<Cost>(rows + 1).fill(nothing);
  const columnPotential: Cost[] = new Array<Cost>(columns + 1).fill(nothing);
  const rowOf: number[] = new Array<number>(columns + 1).fill(0);

  const reduced = (row: number, column: number): Cost =>
    subtract(
      subtract(costs[row - 1]?.[column - 1] ?? nothing, rowPotential[row] ?? nothing),
      columnPotential[column] ?? nothing,
    );

  for (let newRow = 1; newRow <= rows; newRow++) {
    const shortest: (Cost | undefined)[] = new Array<Cost | undefined>(columns + 1);
    const cameFrom: number[] = new Array<number>(columns + 1).fill(0);
    const visited: boolean[] = new Array<boolean>(columns + 1).fill(false);
    let column = 0;
    rowOf[0] = newRow;
    do {
      visited[column] = true;
      const row = rowOf[column] ?? 0;
      let step: Cost | undefined;
      let nextColumn = 0;
      for (let candidate = 1; candidate <= columns; candidate++) {
        if (visited[candidate]) continue;
        const length = reduced(row, candidate);
        const known = shortest[candidate];
        if (!known || compareCosts(length, known) < 0) {
          shortest[candidate] = length;
          cameFrom[candidate] = column;
        }
        const best = shortest[candidate] ?? length;
        if (!step || compareCosts(best, step) < 0) {
          step = best;
          nextColumn = candidate;
        }
      }
      const shift = step ?? nothing;
      for (let each = 0; each <= columns; each++) {
        if (visited[each]) {
          const owner = rowOf[each] ?? 0;
          rowPotential[owner] = add(rowPotential[owner] ?? nothing, shift);
          columnPotential[each] = subtract(columnPotential[each] ?? nothing, shift);
        } else {
          const known = shortest[each];
          if (known) shortest[each] = subtract(known, shift);
        }
      }
      column = nextColumn;
    } while (rowOf[column] !== 0);
    while (column !== 0) {
      const previous = cameFrom[column] ?? 0;
      rowOf[column] = rowOf[previous] ?? 0;
      column = previous;
    }
  }

  const columnOf = new Array<number>(rows).fill(-1);
  for (let column = 1; column <= columns; column++) {
    const row = rowOf[column] ?? 0;
    if (row > 0) columnOf[row - 1] = column - 1;
  }
  return columnOf;
};
