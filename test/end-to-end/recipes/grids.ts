import type { GridJson } from './shapes.js';

/*
 * Where the values of a grid lie, worked out anew from what its kind is named after. Nothing here comes from
 * the program.
 */

/** ISO 3:1973, R40 (from memory; each lies within 1.27 % of 10^(i/40)). */
const r40 = [
  1, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3, 3.15,
  3.35, 3.55, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.3, 5.6, 6, 6.3, 6.7, 7.1, 7.5, 8, 8.5, 9, 9.5,
];

const isWhole = (value: number, room = 1e-9): boolean =>
  Math.abs(value - Math.round(value)) <= room * Math.max(1, Math.abs(value));

/** The mantissa of a value in decimal notation, as written: 19300 is 1.93. */
const mantissa = (value: number): number => Number(value.toExponential().split('e')[0]);

const number = (grid: GridJson, name: string): number => {
  const value = grid[name];
  if (typeof value !== 'number') throw new Error(`a ${grid.kind} grid has no ${name}`);
  return value;
};

/** The run of a piecewise grid that a value lies in: where it begins and its step. */
const runOf = (grid: GridJson, value: number): { readonly from: number; readonly step: number } => {
  let from = number(grid, 'from');
  for (const { to, step } of grid.segments as readonly { to: number; step: number }[]) {
    if (value <= to) return { from, step };
    from = to;
  }
  throw new Error(`${value} lies above the grid`);
};

type Test = (value: number, grid: GridJson) => boolean;

export const gridTests: Readonly<Record<string, Test>> = {
  linear: (value, grid) => isWhole((value - number(grid, 'from')) / number(grid, 'step')),
  geometric: (value, grid) => isWhole(stepOnGeometric(value, grid)),
  'ratio-steps': (value, grid) => {
    const ratio = value / number(grid, 'from');
    return isWhole(
      typeof grid.perOctave === 'number'
        ? Math.log2(ratio) * grid.perOctave
        : Math.log10(ratio) * number(grid, 'perDecade'),
    );
  },
  // IEC 61260-1:2014, equation 3, for an even fraction b: f = 1000 · 10^(0.3 (2x + 1) / 2b).
  'octave-fraction': (value, grid) => {
    const fraction = number(grid, 'fraction');
    if (fraction % 2 !== 0) throw new Error('equation 3 is for even fractions');
    return isWhole((Math.log10(value / 1000) / 0.3) * fraction - 0.5);
  },
  'preferred-numbers': (value, grid) => {
    const every = { R40: 1, R20: 2, R10: 4 }[String(grid.series)];
    if (every === undefined) throw new Error(`no list of ${grid.series} here`);
    return r40.some((each, index) => index % every === 0 && each === mantissa(value));
  },
  'significant-digits': (value, grid) => isWhole(mantissa(value) * 10 ** (number(grid, 'digits') - 1)),
  'piecewise-linear': (value, grid) => {
    const { from, step } = runOf(grid, value);
    return isWhole((value - from) / step);
  },
  table: (value, grid) => (grid.values as readonly number[]).includes(value),
  // IEEE 754 binary32.
  continuous: (value) => Math.fround(value) === value,
};

/** Where a value stands on a geometric grid; between steps where it is no whole number. */
export const stepOnGeometric = (value: number, grid: GridJson): number =>
  ((number(grid, 'count') - 1) * Math.log(value / number(grid, 'from'))) /
  Math.log(number(grid, 'to') / number(grid, 'from'));

/** Whether a value is one a knob can take: on its grid, or the one it is fixed at. */
export const isOnGrid = (
  value: number,
  reference: string | number,
  grids: Readonly<Record<string, GridJson>>,
) => {
  if (typeof reference === 'number') return value === reference;
  const grid = grids[reference];
  const test = grid && gridTests[grid.kind];
  if (!grid || !test) throw new Error(`no arithmetic for the grid ${reference}`);
  return test(value, grid);
};
