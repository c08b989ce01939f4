import type { Section } from '../filters/section.js';
import type { Modulation } from '../guard/modulation.js';
import { amplitudeRatio } from '../units/decibels.js';
import { type Db, db } from '../units/quantity.js';
import { blended, decode, stereoAmounts } from './decode.js';
import { encode } from './encode.js';
import { type LockFigures, measureLock, measureStereo, type StereoFigures } from './measure.js';
import { runChainOnBoth } from './run-chain.js';
import { highestSample, type Stereo } from './stereo.js';
import type { LoopOptions } from './track-pilot.js';

/** How the link is set up, and how quick the receiver's loop is. */
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

/** One half of what is heard: when it sounds, and what became of pilot, stereo and deviation. */
export interface HeardPart extends Pick<Heard, 'lock' | 'stereo' | 'peakDeviation'> {
  readonly fromSeconds: number;
  readonly toSeconds: number;
}

/** A programme heard twice: without desk filters and with them, a pause between. */
export interface BeforeAfter {
  readonly audio: Stereo;
  /** How much both parts were turned down, alike, so that neither goes beyond full scale. */
  readonly gainDb: Db;
  readonly without: HeardPart;
  readonly with: HeardPart;
}

const oneAfterAnother = (channels: readonly Float64Array[]): Float64Array => {
  const all = new Float64Array(channels.reduce((length, channel) => length + channel.length, 0));
  let at = 0;
  for (const channel of channels) {
    all.set(channel, at);
    at += channel.length;
  }
  return all;
};

const figuresOf = ({ lock, stereo, peakDeviation }: Heard) => ({ lock, stereo, peakDeviation });

/** A programme as a listener gets it without desk filters and, after a pause, with them. Throws as `listen` does. */
export const beforeAfter = (
  programme: Stereo,
  chain: readonly Section[],
  pauseSeconds: number,
  options: ListenOptions,
): BeforeAfter => {
  const before = listen(programme, null, options);
  const after = listen(programme, chain, options);
  const { sampleRateHz } = before.audio;
  const gainDb = Math.min(before.gainDb, after.gainDb);
  const pause = new Float64Array(Math.round(pauseSeconds * sampleRateHz));
  const channel = (side: 'left' | 'right'): Float64Array => {
    const turnedDown = ({ audio, gainDb: own }: Heard): Float64Array => {
      const gain = amplitudeRatio(gainDb - own);
      return audio[side].map((sample) => gain * sample);
    };
    return oneAfterAnother([turnedDown(before), pause, turnedDown(after)]);
  };
  const left = channel('left');
  const first = before.audio.left.length;
  return {
    audio: { sampleRateHz, left, right: channel('right') },
    gainDb: db(gainDb),
    without: { fromSeconds: 0, toSeconds: first / sampleRateHz, ...figuresOf(before) },
    with: {
      fromSeconds: (first + pause.length) / sampleRateHz,
      toSeconds: left.length / sampleRateHz,
      ...figuresOf(after),
    },
  };
};
