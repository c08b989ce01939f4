import { parseBandwidth, parseFrequency, parseGain, parseQ, parseSlope } from '../units/parse.js';
import type { Result } from '../units/result.js';
import type { Knob } from './knob.js';

/** How a value of each knob is read as people type it, in the knob's own unit; errors as those of `parse.ts`. */
export const knobParsers: Readonly<Record<Knob, (text: string) => Result<number, string>>> = {
  frequency: parseFrequency,
  q: parseQ,
  bandwidth: parseBandwidth,
  gain: parseGain,
  slope: parseSlope,
};
