import { buildChain } from '../../filters/build.js';
import type { Filter } from '../../filters/filter.js';
import type { Hz } from '../../units/quantity.js';
import { dbPerOctave, hz } from '../../units/quantity.js';
import { randomFrom } from './random.js';
import { runChain } from './run-chain.js';
import type { Stereo } from './stereo.js';

/** The highest sample: 0.9 of full scale. */
const peak = 0.9;

/** What is left of noise for it to sound like a cymbal: nothing much below 5 kHz, nothing above 20 kHz. */
const cymbalBand: readonly Filter[] = [
  { type: 'highpass', frequencyHz: hz(5000), slopeDbPerOctave: dbPerOctave(12) },
  { type: 'lowpass', frequencyHz: hz(20000), slopeDbPerOctave: dbPerOctave(24) },
];

const strokeEverySeconds = 0.5;
const strokeDecaySeconds = 0.15;
/** What goes on between strokes, against a stroke's beginning. */
const wash = 0.1;

/** How much of the noise is the same on both sides; the rest is each side's own. */
const commonNoise = 0.7;
const noiseLevel = 1;

const toneHz = 330;
const tonePartials = [0.15, 0.06, 0.03];
/** The tone stands to the left. */
const toneInRight = 0.3;

/**
 * A short piece to listen to: strokes on something like a cymbal, a little different on each side, and under them a
 * steady tone that stands to the left, so that a lost pilot is heard. Made up, not measured: bright on purpose. The
 * same for the same seed, a whole number from 1 to 2³² − 1, and sample rate, which must be above 40 kHz.
 */
export const builtInProgramme = (seconds: number, sampleRateHz: Hz, seed: number): Stereo => {
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
  const side = (toneLevel: number): Float64Array => {
    const struck = noise().map((own, n) => {
      const shared = commonNoise * (common[n] as number);
      return noiseLevel * strokeAt(n / sampleRateHz) * (shared + (1 - commonNoise) * own);
    });
    return runChain(struck, sampleRateHz, band).map(
      (cymbal, n) => cymbal + toneLevel * toneAt(n / sampleRateHz),
    );
  };
  const left = side(1);
  const right = side(toneInRight);
  const scale = peak / highestSample(left, right);
  return { sampleRateHz, left: left.map((x) => scale * x), right: right.map((x) => scale * x) };
};

const strokeAt = (seconds: number): number =>
  wash + (1 - wash) * Math.exp(-(seconds % strokeEverySeconds) / strokeDecaySeconds);

const toneAt = (seconds: number): number =>
  tonePartials.reduce(
    (sum, level, i) => sum + level * Math.sin(2 * Math.PI * ((toneHz * (i + 1) * seconds) % 1)),
    0,
  );

/** The greatest distance from zero of any sample of either channel. */
export const highestSample = (left: Float64Array, right: Float64Array): number =>
  [left, right].reduce((most, channel) => channel.reduce((a, b) => Math.max(a, Math.abs(b)), most), 0);
