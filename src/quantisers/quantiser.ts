import type { Step } from '../units/quantity.js';
import type { Result } from '../units/result.js';

/**
 * The grid of one knob: `count` values, strictly rising, addressed by an integer step from 0 (the bottom
 * stop) to `count - 1` (the top stop).
 *
 * A grid says where its values lie and nothing else; finding the nearest step is the same for all of them
 * and lives in `snap.ts`.
 */
export interface Quantiser {
  /** How many steps there are; at least 1. */
  readonly count: number;
  /** The value at a step. Pure. Throws RangeError for a step that is not an integer within the grid. */
  valueAt(step: Step): number;
}

/** What a target descriptor says of one grid: its kind, and that kind's own parameters. */
export interface QuantiserSpec {
  readonly kind: string;
  readonly [parameter: string]: unknown;
}

/**
 * A kind of grid: a plain object, the plug-in of this room. One's own comes as a module whose
 * default export is such an object.
 */
export interface QuantiserKind {
  /** The name a descriptor uses: lower case, digits and hyphens. */
  readonly kind: string;
  /** One line for people: what the grid is and which parameters it takes. */
  readonly summary: string;
  /**
   * Makes the grid a descriptor describes.
   * The error is a sentence that says which parameter is wrong, what stood there and what is allowed.
   */
  create(spec: QuantiserSpec): Result<Quantiser, string>;
}
