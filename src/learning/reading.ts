import type { Knob } from '../model/knob.js';

/** Where a value may lie, both ends included. */
export interface Interval {
  readonly least: number;
  readonly most: number;
}

/** One end of a knob's travel. */
export type End = 'bottom' | 'top';

/** How a display makes its last digit: by rounding to the nearest, or by leaving off what follows (towards zero). */
export type LastDigit = 'rounded' | 'cut';

/** One value read off a knob, in the knob's own unit: Hz, Q, octaves, dB, dB per octave. */
export interface Reading {
  /** As it was typed, or as a desk answered it: for messages. */
  readonly text: string;
  /**
   * Where the value lies, by how the display makes its last digit: it rounds to the nearest, or leaves off what follows
   * (towards zero). Both are the same where the value itself was answered and not a display of it.
   */
  readonly ifRounded: Interval;
  readonly ifCut: Interval;
  /** Whether the knob stood at a stop there. */
  readonly stop: End | null;
  /** Clicks turned since the reading before this one, upwards positive; null for the first, and where nobody counted. */
  readonly clicksUp: number | null;
  /** Whether that it is one click was taken for granted, since nothing else was said. */
  readonly isClickAssumed?: boolean;
  /** Whether the way it was turned was told by the values alone. */
  readonly isWayAssumed?: boolean;
  /** Whether it was read twice, so that it is no slip. */
  readonly isSure: boolean;
}

/** What was read off one knob, in the order it was read. */
export interface KnobReadings {
  readonly knob: Knob;
  readonly readings: readonly Reading[];
}
