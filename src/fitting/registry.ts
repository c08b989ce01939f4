import type { Fit } from './fit.js';
import { nearest } from './nearest.js';

/** Every fit there is. */
export const fits: readonly Fit[] = [nearest];
