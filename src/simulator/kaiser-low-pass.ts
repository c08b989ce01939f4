/** What a low-pass is to do at a sample rate. */
export interface LowPassWish {
  readonly passHz: number;
  readonly stopHz: number;
  readonly sampleRateHz: number;
  readonly stopDb: number;
}

/** The modified Bessel function of the first kind and order zero, by its power series. */
const bessel0 = (x: number): number => {
  let term = 1;
  let sum = 1;
  for (let k = 1; term > 1e-17 * sum; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
};

/**
 * The taps of a low-pass of linear phase, an odd number of them, the middle one its centre; gain 1 at 0 Hz. What it
 * passes ripples as little as what it stops is left: 80 dB is 0.0009 dB.
 *
 * A windowed sinc with Kaiser's window and his formulas for its length and shape, for 50 dB and more
 * (J. F. Kaiser 1974; Oppenheim and Schafer, Discrete-Time Signal Processing, "the Kaiser window filter design
 * method": from memory).
 */
export const kaiserLowPass = ({ passHz, stopHz, sampleRateHz, stopDb }: LowPassWish): Float64Array => {
  const beta = 0.1102 * (stopDb - 8.7);
  const transition = (2 * Math.PI * (stopHz - passHz)) / sampleRateHz;
  const half = Math.ceil((stopDb - 7.95) / (2.285 * transition) / 2);
  const cutoff = (passHz + stopHz) / sampleRateHz;
  const taps = Float64Array.from({ length: 2 * half + 1 }, (_, i) => {
    const place = i - half;
    const sinc = place === 0 ? cutoff : Math.sin(Math.PI * cutoff * place) / (Math.PI * place);
    return sinc * bessel0(beta * Math.sqrt(1 - (place / half) ** 2));
  });
  const gain = taps.reduce((a, b) => a + b, 0);
  return taps.map((tap) => tap / gain);
};
