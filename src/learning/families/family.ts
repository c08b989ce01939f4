import type { Knob } from '../../model/knob.js';
import type { QuantiserSpec } from '../../quantisers/quantiser.js';
import type { Chain } from '../chains.js';
import type { Neighbours } from '../learned.js';
import type { End, Interval, LastDigit, Reading } from '../reading.js';

/** What was read, for one way of making the last digit. */
export interface KnobEvidence {
  readonly knob: Knob;
  readonly readings: readonly Reading[];
  readonly lastDigit: LastDigit;
  readonly chains: readonly Chain[];
  /** How many steps the knob has, where somebody knows. */
  readonly count: number | null;
}

/** So many clicks from a reading. */
export interface ClicksFrom {
  readonly at: number;
  readonly clicks: number;
}

/** One shape of grid that explains all readings, with whatever of it they leave open. */
export interface Explanation {
  /** The same for the same shape, however the display makes its last digit. */
  readonly key: string;
  readonly spec: QuantiserSpec;
  readonly count: number | null;
  readonly openEnds: readonly End[];
  readonly complexity: number;
  readonly reasons: readonly string[];
  /** What it has next to a value, whatever is open. */
  neighboursOf(value: number): Neighbours;
  /** Whether it explains one more reading: so many clicks from one of the others, or anywhere. */
  admits(interval: Interval, from: ClicksFrom | null): boolean;
  /** What its simplest grid has so many clicks from a reading; null beyond an end. */
  valueFrom(from: ClicksFrom): number | null;
  /** What its simplest grid has nearest to a value. */
  valueNear(value: number): number;
}

/** What a family has to say of what was read. */
export interface Explained {
  readonly explanations: readonly Explanation[];
  /** Whether there are more than were worked out. */
  readonly areMore: boolean;
}

const usualCount = 800;

/** What it costs to believe in more steps than knobs have: so many explain whatever is read. */
export const costOfCount = (count: number): number => Math.max(0, 3 * Math.log10(count / usualCount));

/** A family of grids that learning knows: a plain object, registered in `families.ts`. */
export interface GridFamily {
  explain(evidence: KnobEvidence): Explained;
}
