import type { Db, DbPerOctave, Hz, Octaves, Q } from '../units/quantity.js';

/** The eight filter types, by their W3C Web Audio API names (BiquadFilterType). */
export const filterTypes = [
  'lowpass',
  'highpass',
  'bandpass',
  'notch',
  'allpass',
  'peaking',
  'lowshelf',
  'highshelf',
] as const;

/** One of the eight. */
export type FilterType = (typeof filterTypes)[number];

/** How the sections of a cut with a slope are laid out. */
export const cutFamilies = ['butterworth', 'linkwitz-riley'] as const;

/** `butterworth`: 3 dB down at the cut's frequency; `linkwitz-riley`: 6 dB (see `cutSections`). */
export type CutFamily = (typeof cutFamilies)[number];

/**
 * One filter, free of any desk and of any way of building it.
 *
 * Its width is told in exactly one form: `q`, `bandwidthOctaves` (W3C Audio EQ Cookbook: between the −3 dB
 * points for bandpass and notch, between the midpoint-gain points for peaking), `shelfSlope` (the cookbook's
 * S; 1 is the steepest monotonic shelf, and the default of a shelf that tells no width) or, for lowpass and
 * highpass, `slopeDbPerOctave` with its `family` (Butterworth unless told).
 */
export interface Filter {
  readonly type: FilterType;
  readonly frequencyHz: Hz;
  readonly q?: Q;
  readonly bandwidthOctaves?: Octaves;
  readonly shelfSlope?: number;
  readonly gainDb?: Db;
  readonly slopeDbPerOctave?: DbPerOctave;
  readonly family?: CutFamily;
}

/** The forms a width may be told in: the keys of a filter, of which it has exactly one. */
export const widthForms = ['q', 'bandwidthOctaves', 'shelfSlope', 'slopeDbPerOctave'] as const;

/** One of those forms. */
export type WidthForm = (typeof widthForms)[number];

/** The forms each type takes. Only a type that takes `shelfSlope` may tell none: its slope is then 1. */
export const widthFormsByType: Readonly<Record<FilterType, readonly WidthForm[]>> = {
  lowpass: ['slopeDbPerOctave', 'q'],
  highpass: ['slopeDbPerOctave', 'q'],
  bandpass: ['q', 'bandwidthOctaves'],
  notch: ['q', 'bandwidthOctaves'],
  allpass: ['q'],
  peaking: ['q', 'bandwidthOctaves'],
  lowshelf: ['q', 'shelfSlope'],
  highshelf: ['q', 'shelfSlope'],
};

/** The types that have a gain, and must tell it. */
export const gainTypes: readonly FilterType[] = ['peaking', 'lowshelf', 'highshelf'];
