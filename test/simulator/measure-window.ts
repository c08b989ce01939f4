import { pilotPhaseAt } from '../../src/simulator/encode.js';
import { decimate, kaiserLowPass } from '../../src/simulator/resample.js';
import type { Composite } from '../../src/simulator/stereo.js';
import type { Hz } from '../../src/units/quantity.js';

export interface WindowQuestion {
  readonly pilotHz: Hz;
  readonly windowHz: Hz;
  /** Where the filters have settled. */
  readonly fromSeconds: number;
}

/** Samples for every hertz of half-width: the spectrum must not fold into the window. */
const ratePerWindow = 10;
const segmentSeconds = 1;
const stopDb = 90;

/**
 * The mean square of what a composite holds within pilotHz ± windowHz. To measure the programme there, encode it
 * without a pilot.
 *
 * The band is brought down to 0 Hz and thinned out; there the squares of the bins of a Fourier transform are summed,
 * over stretches of 1 s that overlap by half under a Hann window, and averaged (Welch, IEEE Trans. AU-15, 1967).
 * Edges are sharp to about 2 Hz. Throws RangeError where less than 1 s is left.
 */
export const powerInWindow = (
  { samples, sampleRateHz }: Composite,
  { pilotHz, windowHz, fromSeconds }: WindowQuestion,
): number => {
  const factor = Math.max(1, Math.floor(sampleRateHz / (ratePerWindow * windowHz)));
  const rateHz = sampleRateHz / factor;
  const taps = kaiserLowPass({
    passHz: 1.5 * windowHz,
    stopHz: rateHz - 1.5 * windowHz,
    sampleRateHz,
    stopDb,
  });
  const broughtDown = (wave: (phase: number) => number): Float64Array =>
    decimate(
      samples.map((sample, n) => sample * wave(pilotPhaseAt(n, pilotHz / sampleRateHz))),
      taps,
      factor,
    );
  const real = broughtDown(Math.cos);
  const imaginary = broughtDown((phase) => -Math.sin(phase));

  const length = Math.round(segmentSeconds * rateHz);
  const first = Math.ceil(fromSeconds * rateHz);
  const hop = Math.floor(length / 2);
  const segments = Math.floor((real.length - first - length) / hop) + 1;
  if (!(segments > 0)) throw new RangeError(`less than ${segmentSeconds} s is left after ${fromSeconds} s`);
  const bins = Math.floor((windowHz * length) / rateHz);
  let sum = 0;
  for (let segment = 0; segment < segments; segment++) {
    const start = first + segment * hop;
    const end = start + length;
    sum += binsPower(real.subarray(start, end), imaginary.subarray(start, end), bins);
  }
  // A real sine is two complex ones, and only one of them has come down to 0 Hz.
  return (2 * sum) / segments;
};

/** The mean square of a complex stretch that lies in bins −`bins` to +`bins`. */
const binsPower = (real: Float64Array, imaginary: Float64Array, bins: number): number => {
  const length = real.length;
  const turn = (2 * Math.PI) / length;
  const cosines = Float64Array.from({ length }, (_, n) => Math.cos(turn * n));
  const sines = Float64Array.from({ length }, (_, n) => Math.sin(turn * n));
  const hann = cosines.map((cosine) => 1 - cosine);
  let power = 0;
  for (let bin = -bins; bin <= bins; bin++) {
    let re = 0;
    let im = 0;
    let place = 0;
    for (let n = 0; n < length; n++) {
      const weight = hann[n] as number;
      const [x, y] = [weight * (real[n] as number), weight * (imaginary[n] as number)];
      const [cosine, sine] = [cosines[place] as number, sines[place] as number];
      re += x * cosine + y * sine;
      im += y * cosine - x * sine;
      place = (place + bin + length) % length;
    }
    power += re * re + im * im;
  }
  const weightsPower = hann.reduce((total, weight) => total + weight * weight, 0);
  return power / (length * weightsPower);
};
