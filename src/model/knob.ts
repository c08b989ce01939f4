/**
 * The knobs a desk may give a filter. Each turns one value; `measure` says how far apart two values of it
 * are: frequencies, Qs and bandwidths by ratio, gains and slopes by difference.
 */
export const knobs = {
  frequency: { value: 'frequencyHz', measure: 'ratio' },
  q: { value: 'q', measure: 'ratio' },
  bandwidth: { value: 'bandwidthOctaves', measure: 'ratio' },
  gain: { value: 'gainDb', measure: 'difference' },
  slope: { value: 'slopeDbPerOctave', measure: 'difference' },
} as const;

/** The name of a knob. */
export type Knob = keyof typeof knobs;

/** Every knob, in the order people dial them. */
export const knobNames = Object.keys(knobs) as readonly Knob[];
