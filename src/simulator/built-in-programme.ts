import { buildChain } from '../filters/build.js';
import type { Filter } from '../filters/filter.js';
import { usualProgramme } from '../guard/programme.js';
import { numberAt } from '../units/at.js';
import { amplitudeRatio } from '../units/decibels.js';
import { dbPerOctave, type Hz, hz } from '../units/quantity.js';
import { runChain } from './run-chain.js';
import type { Stereo } from './stereo.js';

/** The RMS of the louder channel, that of the programme which guards are worked out for. */
export const builtInLevelDbfs = usualProgramme.levelDbfs;

const highestHz = 20000;

/** What is left of noise for it to sound like a cymbal: nothing much below 5 kHz, nothing above 20 kHz. */
const cymbalBand: readonly Filter[] = [
  { type: 'highpass', frequencyHz: hz(5000), slopeDbPerOctave: dbPerOctave(12) },
  { type: 'lowpass', frequencyHz: hz(highestHz), slopeDbPerOctave: dbPerOctave(24) },
];

const strokeEverySeconds = 0.5;
const strokeDecaySeconds = 0.15;
/** What goes on between strokes, against a stroke's beginning. */
const wash = 0.1;

/** How much of the noise is the same on both sides; the rest is each side's own. */
const commonNoise = 0.7;
/** At 48 kHz; as dense round any frequency at other rates. */
const noiseLevel = 0.12;
const noiseRateHz = 48000;

/** A partial of the cymbal that rings just below the pilot, near enough for a receiver's loop to follow it. */
const ringLevel = 0.045;
const ringBelowPilotHz = 11;

const toneHz = 330;
const tonePartials = [0.15, 0.06, 0.03];
/** The tone stands to the left. */
const toneInRight = 0.3;

/**
 * A short piece to listen to: strokes on something like a cymbal, a little different on each side, that rings just
 * below the pilot, and under them a steady tone that stands to the left, so that a lost pilot is heard. Made up, not
 * measured: bright on purpose, yet so that at −18 dBFS RMS and a line-up of 0 dBFS a link with 50 or 75 µs carries it
 * within its deviation, pilot and all. The same for the same seed, a whole number from 1 to 2³² − 1, pilot and sample
 * rate, which must be above 40 kHz.
 */
export const builtInProgramme = (seconds: number, sampleRateHz: Hz, seed: number, pilotHz: Hz): Stereo => {
  const length = Math.round(seconds * sampleRateHz);
  if (!(length > 0 && length < Infinity)) throw new RangeError(`a programme can't last ${seconds} s`);
  const random = randomFrom(seed);
  const noise = (): Float64Array => Float64Array.from({ length }, () => 2 * random() - 1);
  const common = noise();
  const band = buildChain(cymbalBand, {
    id: 'built-in programme',
    design: 'cookbook',
    qMeaning: 'cookbook',
    sampleRateHz,
  });
  const density = noiseLevel * Math.sqrt(sampleRateHz / noiseRateHz);
  const ringHz = Math.min(pilotHz - ringBelowPilotHz, highestHz);
  const side = (toneLevel: number): Float64Array => {
    const struck = noise().map((own, n) => {
      const shared = commonNoise * numberAt(common, n);
      return density * strokeAt(n / sampleRateHz) * (shared + (1 - commonNoise) * own);
    });
    return runChain(struck, sampleRateHz, band).map((cymbal, n) => {
      const now = n / sampleRateHz;
      return cymbal + ringLevel * strokeAt(now) * sineAt(ringHz, now) + toneLevel * toneAt(now);
    });
  };
  const left = side(1);
  const right = side(toneInRight);
  const scale = (amplitudeRatio(builtInLevelDbfs) * Math.SQRT1_2) / Math.max(rmsOf(left), rmsOf(right));
  return { sampleRateHz, left: left.map((x) => scale * x), right: right.map((x) => scale * x) };
};

const strokeAt = (seconds: number): number =>
  wash + (1 - wash) * Math.exp(-(seconds % strokeEverySeconds) / strokeDecaySeconds);

const sineAt = (frequencyHz: number, seconds: number): number =>
  Math.sin(2 * Math.PI * ((frequencyHz * seconds) % 1));

const toneAt = (seconds: number): number =>
  tonePartials.reduce((sum, level, i) => sum + level * sineAt(toneHz * (i + 1), seconds), 0);

const rmsOf = (samples: Float64Array): number =>
  Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);

/**
 * A stream of numbers within [0, 1), the same for the same seed: Marsaglia's xorshift of 32 bits with the shifts
 * 13, 17 and 5 (Xorshift RNGs, Journal of Statistical Software 8(14), 2003). Good enough for noise to listen to.
 *
 * The seed is a whole number from 1 to 2³² − 1; throws RangeError for any other, 0 being the one from which
 * nothing ever comes.
 */
export const randomFrom = (seed: number): (() => number) => {
  if (!(Number.isInteger(seed) && seed > 0 && seed < 2 ** 32)) {
    throw new RangeError(`a seed is a whole number from 1 to 4294967295, not ${seed}`);
  }
  let state = seed >>> 0;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
};
