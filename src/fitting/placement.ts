import type { Filter } from '../filters/filter.js';
import { bandwidthOfQ, qOfBandwidth, qOfShelfSlope } from '../filters/widths.js';
import type { DeskSlotType } from '../model/desk.js';
import { knobPosition } from '../model/display.js';
import type { Intent } from '../model/intent.js';
import { type Knob, knobNames, knobs } from '../model/knob.js';
import type { FilterValues, KnobPosition, PlacementError } from '../model/recipe.js';
import type { Display } from '../model/target.js';
import { nearestStep, type Tie } from '../quantisers/snap.js';
import type { Octaves, Q } from '../units/quantity.js';
import { centsBetween, db, dbPerOctave, hz, q, type Step, step } from '../units/quantity.js';

/** The Q of a second-order Butterworth section, 1/√2: what a cut of 12 dB per octave is. */
const butterworthQ = q(Math.SQRT1_2);

/**
 * A filter's width as a Q, whichever way it was told; undefined where it has none to tell. Bandwidths are
 * turned by the analogue relation, which is free of any sample rate. A cut told by its slope is taken for a
 * second-order section: 1/√2, or 1/2 for a Linkwitz-Riley one.
 */
const widthAsQ = (filter: Filter): Q | undefined => {
  if (filter.q !== undefined) return filter.q;
  if (filter.bandwidthOctaves !== undefined) return qOfBandwidth(filter.bandwidthOctaves);
  if (filter.shelfSlope !== undefined) return qOfShelfSlope(filter.shelfSlope, filter.gainDb ?? db(0));
  if (filter.slopeDbPerOctave !== undefined) {
    return filter.family === 'linkwitz-riley' ? q(0.5) : butterworthQ;
  }
  if (filter.type === 'lowshelf' || filter.type === 'highshelf')
    return qOfShelfSlope(1, filter.gainDb ?? db(0));
  return undefined;
};

/** A filter's width as a bandwidth in octaves. */
export const widthAsBandwidth = (filter: Filter): Octaves | undefined => {
  if (filter.bandwidthOctaves !== undefined) return filter.bandwidthOctaves;
  const asQ = widthAsQ(filter);
  return asQ === undefined ? undefined : bandwidthOfQ(asQ);
};

/** The slope of a cut: a cut told by its Q is a second-order section, 12 dB per octave. */
const widthAsSlope = (filter: Filter) =>
  filter.slopeDbPerOctave ?? (filter.q === undefined ? undefined : dbPerOctave(12));

/** An intent set on a slot's knobs: the steps chosen, the values they stand for, and how far off they are. */
export interface Placement {
  readonly set: FilterValues;
  readonly steps: Readonly<Partial<Record<Knob, KnobPosition>>>;
  readonly error: PlacementError;
  /** Knobs whose asked value lies beyond their last stop. */
  readonly beyond: readonly Knob[];
}

/** The value an intent asks of a knob; undefined where it asks nothing of it. */
const askedOf: Readonly<Record<Knob, (intent: Intent) => number | undefined>> = {
  frequency: (intent) => intent.frequencyHz,
  q: widthAsQ,
  bandwidth: widthAsBandwidth,
  gain: (intent) => intent.gainDb,
  slope: widthAsSlope,
};

/** Of two steps equally near, the one that cuts less music. */
const tieOf = (knob: Knob, type: Filter['type']): Tie => {
  if (knob === 'frequency') return type === 'highpass' || type === 'lowshelf' ? 'down' : 'up';
  if (knob === 'gain') return 'towards-zero';
  if (knob === 'bandwidth' || knob === 'slope') return 'down';
  return 'up';
};

/** The filter a placement amounts to, for working out its response. */
export const placedFilter = (type: Filter['type'], set: FilterValues): Filter => ({ type, ...set });

/** How far what is set lies from what was asked, in whatever both of them tell. */
export const errorOf = (type: Filter['type'], asked: Intent, set: FilterValues): PlacementError => {
  const setFilter = placedFilter(type, set);
  const askedQ = widthAsQ(asked);
  const setQ = widthAsQ(setFilter);
  const askedSlope = asked.slopeDbPerOctave;
  const setSlope = widthAsSlope(setFilter);
  return {
    frequencyHz: hz(set.frequencyHz - asked.frequencyHz),
    frequencyCents: centsBetween(asked.frequencyHz, set.frequencyHz),
    ...(askedQ !== undefined && setQ !== undefined && askedSlope === undefined
      ? { qRatio: setQ / askedQ }
      : {}),
    ...(asked.gainDb !== undefined && set.gainDb !== undefined
      ? { gainDb: db(set.gainDb - asked.gainDb) }
      : {}),
    ...(askedSlope !== undefined && setSlope !== undefined
      ? { slopeDbPerOctave: dbPerOctave(setSlope - askedSlope) }
      : {}),
  };
};

/** Where a knob stands that an intent asks nothing of: only where there is nothing to choose. */
const bottomStop = ({ type }: DeskSlotType, knob: Knob): Step => {
  throw new RangeError(`a ${type} intent asks nothing of the ${knob} knob`);
};

/** Slopes that serve as well as the 12 dB per octave a derived cut asks for. Common practice, no source. */
const leastSlopeDbPerOctave = 12;
const mostSlopeDbPerOctave = { lowpass: Number.POSITIVE_INFINITY, highpass: 24 };

/**
 * Whether a cut asked for by its slope came out of another family, or as one section that has no such slope. One that
 * was derived may have any slope that serves.
 */
export const hasOtherShape = (asked: Intent, set: FilterValues): boolean => {
  if (asked.slopeDbPerOctave === undefined) return false;
  if (asked.mayMove && (asked.type === 'lowpass' || asked.type === 'highpass')) {
    const { slopeDbPerOctave = leastSlopeDbPerOctave } = set;
    return slopeDbPerOctave < leastSlopeDbPerOctave || slopeDbPerOctave > mostSlopeDbPerOctave[asked.type];
  }
  const { family = 'butterworth' } = asked;
  if (set.slopeDbPerOctave !== undefined) return set.family !== undefined && set.family !== family;
  return set.q !== undefined && (asked.slopeDbPerOctave !== 12 || family !== 'butterworth');
};

/**
 * Puts an intent on a slot, each knob at a step of its own choosing: `choose` gives the step for a knob, and
 * nearest-of-all is the usual choice.
 */
export const place = (
  intent: Intent,
  slotType: DeskSlotType,
  display: Display,
  chosen: Readonly<Partial<Record<Knob, Step>>> = {},
): Placement => {
  const values: Record<string, number> = {};
  const steps: Partial<Record<Knob, KnobPosition>> = {};
  const beyond: Knob[] = [];
  for (const knob of knobNames) {
    const grid = slotType.grids[knob];
    if (!grid) continue;
    const { measure, value } = knobs[knob];
    const asked = askedOf[knob](intent);
    const index =
      chosen[knob] ??
      (asked === undefined
        ? bottomStop(slotType, knob)
        : nearestStep(grid, asked, { measure, tie: tieOf(knob, slotType.type) }));
    const set = grid.valueAt(index);
    values[value] = set;
    steps[knob] = knobPosition(knob, grid, index, display);
    const [bottom, top] = [grid.valueAt(step(0)), grid.valueAt(step(grid.count - 1))];
    if (asked !== undefined && (asked < bottom || asked > top)) beyond.push(knob);
  }
  const family = slotType.grids.slope ? { family: slotType.family ?? ('butterworth' as const) } : {};
  const set = { ...values, ...family } as unknown as FilterValues;
  return { set, steps, error: errorOf(slotType.type, intent, set), beyond };
};

/**
 * How far a placement lies from what was asked, for choosing among slots only: a tenth of an octave, a
 * doubling of Q, three decibels and one order of slope weigh alike. A whole number of millionths, so that
 * sums and comparisons are exact.
 */
export const placementDistance = ({ error }: Placement): number =>
  Math.round(
    1e6 *
      (Math.abs(error.frequencyCents) / 120 +
        Math.abs(Math.log2(error.qRatio ?? 1)) +
        Math.abs(error.gainDb ?? 0) / 3 +
        Math.abs(error.slopeDbPerOctave ?? 0) / 6),
  );
