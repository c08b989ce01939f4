import { equalRatios } from './equal-ratios.js';
import { equalSteps } from './equal-steps.js';
import type { GridFamily } from './family.js';
import { grownSteps } from './grown-steps.js';
import { noSteps } from './no-steps.js';
import { series } from './series.js';
import { wholeList } from './whole-list.js';

/** Every family of grids that readings are held against. */
export const gridFamilies: readonly GridFamily[] = [
  equalSteps,
  equalRatios,
  series,
  grownSteps,
  wholeList,
  noSteps,
];
