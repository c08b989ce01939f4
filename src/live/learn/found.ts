import type { FilterType } from '../../filters/filter.js';
import type { Reading } from '../../learning/reading.js';
import type { Knob } from '../../model/knob.js';
import type { OscParameter } from '../../model/target.js';
import type { QuantiserSpec } from '../../quantisers/quantiser.js';
import type { Beyond } from './find-stops.js';
import type { Between } from './probing.js';

/** What one grid of the draft turned out to be. */
export interface GridLearned {
  /** What the draft calls it. */
  readonly name: string;
  readonly knob: Knob;
  /** Where it was learned. */
  readonly slot: string;
  readonly type: FilterType | null;
  /** What the desk tells of it: its values, or only which step it stands at. */
  readonly tells: 'values' | 'steps';
  /** Ready to paste; null where it was not found, or where only steps are told. */
  readonly spec: QuantiserSpec | null;
  /** How many steps it has; null where that was not found. */
  readonly count: number | null;
  /** Other grids that explain all that was read as well, and tell the same at every place that was tried. */
  readonly others: readonly QuantiserSpec[];
  /** Values that were told beforehand and came so, in a row. */
  readonly right: number;
  /** Whether every value of it was seen. */
  readonly isWhole: boolean;
  readonly beyond: { readonly bottom: Beyond; readonly top: Beyond } | null;
  readonly between: Between | null;
  readonly readings: readonly Reading[];
  /** Messages that it took. */
  readonly messages: number;
  /** What is open, as a sentence; null where nothing is. */
  readonly open: string | null;
}

/** A grid looked at in another slot, or under another type, than where it was learned. */
export interface GridCheck {
  readonly name: string;
  readonly slot: string;
  readonly type: FilterType | null;
  /** Whether a value was sent, or only read that stood there. */
  readonly by: 'sent' | 'read';
  readonly agrees: boolean;
  readonly text: string;
}

/** What was not turned, and why, as the end of a sentence. */
export interface LeftUnlearned {
  readonly slot: string;
  readonly parameter: OscParameter | null;
  readonly why: string;
}

/** The types of the draft that a slot takes. */
export interface SlotTypes {
  readonly slot: string;
  readonly taken: readonly FilterType[];
  readonly refused: readonly FilterType[];
}

/** Whether the other leg of a pair goes along; only ever read there. */
export interface PartnerFound {
  readonly output: number;
  readonly goesAlong: 'yes' | 'no' | 'not-known';
}

/** Everything found out on an output so far. */
export interface Findings {
  readonly grids: Map<string, GridLearned>;
  readonly checks: GridCheck[];
  readonly types: SlotTypes[];
  readonly left: LeftUnlearned[];
  partner: PartnerFound | null;
}

export const noFindings = (): Findings => ({
  grids: new Map(),
  checks: [],
  types: [],
  left: [],
  partner: null,
});
