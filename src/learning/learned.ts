import type { QuantiserSpec } from '../quantisers/quantiser.js';
import type { End, Interval, LastDigit, Reading } from './reading.js';

/** The values of a grid on either side of a frequency, each as narrow as the readings allow; null where there is none. */
export interface Neighbours {
  readonly below: Interval | null;
  readonly at: boolean;
  readonly above: Interval | null;
}

/** A grid that explains every reading. */
export interface Candidate {
  /** The simplest such grid; where an end was not read, as far as readings go. */
  readonly spec: QuantiserSpec;
  /** How many steps it has, or null where a stop was not read. */
  readonly count: number | null;
  /** Stops that were not read. */
  readonly openEnds: readonly End[];
  /** How the display may make its last digit for this grid to be the one. */
  readonly lastDigit: readonly LastDigit[];
  /** What it says of the frequencies next to the pilot; null for other knobs. */
  readonly nextToPilot: Neighbours | null;
  /** What speaks for it where several are left: round ends, whole numbers of steps to the octave, a published series. */
  readonly reasons: readonly string[];
  /** How much has to be believed for it to be true: less is simpler. For ranking only. */
  readonly complexity: number;
}

/** A reading to take next: what to do, and why that one. */
export interface NextReading {
  readonly do:
    | { readonly kind: 'stop'; readonly end: End }
    /** Anywhere near a value, no clicks counted; `thenClicksUp` asks for a second reading so many clicks on. */
    | { readonly kind: 'near'; readonly value: number; readonly thenClicksUp: number | null }
    /** So many clicks from a reading that was taken. */
    | { readonly kind: 'clicks'; readonly from: Reading; readonly clicksUp: number }
    /** Take a reading again that is likely to be wrong. */
    | { readonly kind: 'again'; readonly reading: Reading };
  /** How many candidates are left after it on average, where that is known. */
  readonly leaves: number | null;
}

/** A reading without which a simple grid explains the others. */
export interface Suspect {
  readonly reading: Reading;
  /** Its place among the readings, from 0. */
  readonly at: number;
}

/** What readings tell of a grid. */
export interface Learned {
  /** Every grid that explains all readings, the simplest first; with suspects left out, where none explains all. */
  readonly candidates: readonly Candidate[];
  /** Whether there are more than were worked out. */
  readonly areMore: boolean;
  /** Readings that are likely wrong; the candidates explain the others. Empty where all fit. */
  readonly suspects: readonly Suspect[];
  /** As likely to be the wrong one: other readings without which the rest has an explanation about as simple. */
  readonly otherSuspects: readonly Suspect[];
  /** Places of readings that are not one click from the one before, though that was taken for granted. */
  readonly apart: readonly number[];
  /** The next reading that settles most; null where nothing is open that a reading could settle. */
  readonly next: NextReading | null;
  /**
   * No reading could tell more: what is left has the same values as far as the screen shows them, both ends were read, and
   * at least one reading confirmed it that would hardly have fitted by luck.
   */
  readonly isSettled: boolean;
  /** How likely the reading that fits best would have fitted a wrong grid too; null where too little was read to say. */
  readonly luck: number | null;
}
