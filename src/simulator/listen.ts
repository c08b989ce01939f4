import type { Section } from '../filters/section.js';
import type { Modulation } from '../guard/line-up.js';
import type { Db } from '../units/quantity.js';
import { db } from '../units/quantity.js';
import { highestSample } from './built-in-programme.js';
import { decode } from './decode.js';
import { encode } from './encode.js';
import { type LockFigures, measureLock } from './measure-lock.js';
import { measureStereo, type StereoFigures } from './measure-stereo.js';
import { runChainOnBoth } from './run-chain.js';
import type { Stereo } from './stereo.js';
import { blended, stereoAmounts } from './to-stereo.js';
import type { LoopOptions } from './track-pilot.js';

export interface ListenOptions extends Modulation, LoopOptions {}

/** What a listener gets, and what the pilot's loop went through meanwhile. */
export interface Heard {
  /** At 48 kHz, or at 44.1 kHz for a programme at 44.1 or 88.2 kHz. Never above full scale. */
  readonly audio: Stereo;
  /** How much the audio had to be turned down to stay within full scale; 0 where nothing was done. */
  readonly gainDb: Db;
  readonly lock: LockFigures;
  readonly stereo: StereoFigures;
  /** The most the composite asked for, pilot and all; 1 is all the deviation there is, and nothing limits it. */
  readonly peakDeviation: number;
}

/** The link is on for this long before the programme begins, and has found its pilot. */
const leadInSeconds = 1;

/** Two products round on the way to full scale. */
const justBelowOne = 1 - 4 * Number.EPSILON;

/**
 * A programme as a listener gets it over an FM stereo link, after a chain of desk filters on both channels or, with
 * null, without any. The receiver goes mono while its lock indicator is off (see `blended`).
 *
 * The link is modelled as linear: neither noise nor limiter nor compander nor radio path. Throws RangeError where the
 * chain is for another sample rate than the programme's.
 */
export const listen = (
  programme: Stereo,
  chain: readonly Section[] | null,
  options: ListenOptions,
): Heard => {
  const led = withLeadIn(programme);
  const composite = encode(runChainOnBoth(led, chain ?? []), options);
  const received = decode(composite, options, options);
  const amounts = stereoAmounts(received);
  const { left, right, sampleRateHz } = blended(received, amounts);
  const from = Math.round(leadInSeconds * sampleRateHz);
  const highest = highestSample(left.subarray(from), right.subarray(from));
  const gain = highest > 1 ? justBelowOne / highest : 1;
  const finished = (channel: Float64Array): Float64Array =>
    channel.slice(from).map((sample) => gain * sample);
  return {
    audio: { sampleRateHz, left: finished(left), right: finished(right) },
    gainDb: db(20 * Math.log10(gain)),
    lock: measureLock(received.track, leadInSeconds),
    stereo: measureStereo(received, amounts, leadInSeconds),
    peakDeviation: highestSample(composite.samples, composite.samples),
  };
};

const withLeadIn = ({ left, right, sampleRateHz }: Stereo): Stereo => {
  const silent = Math.round(leadInSeconds * sampleRateHz);
  const led = (channel: Float64Array): Float64Array => {
    const out = new Float64Array(silent + channel.length);
    out.set(channel, silent);
    return out;
  };
  return { sampleRateHz, left: led(left), right: led(right) };
};
