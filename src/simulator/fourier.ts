/** Complex numbers, their parts in two arrays of one length. */
export interface Complex {
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

/** The places with the bits of their numbers reversed. */
const reversedBits = (length: number): Uint32Array => {
  const places = new Uint32Array(length);
  for (let i = 1; i < length; i++) places[i] = ((places[i >> 1] as number) >> 1) | (i & 1 ? length >> 1 : 0);
  return places;
};

/**
 * The discrete Fourier transform Σ x[n] e^(−2πi nk/N), by halving (Cooley and Tukey, Math. Comp. 19, 1965).
 * The length must be a power of two. For the inverse exchange real and imaginary before and after, and divide by
 * the length.
 */
export const fourier = ({ real, imaginary }: Complex): Complex => {
  const length = real.length;
  if (!(length > 0 && Number.isInteger(Math.log2(length)))) {
    throw new RangeError(`a length of ${length} is not a power of two`);
  }
  const places = reversedBits(length);
  const re = new Float64Array(length);
  const im = new Float64Array(length);
  places.forEach((place, i) => {
    re[i] = real[place] as number;
    im[i] = imaginary[place] as number;
  });
  const cosines = Float64Array.from({ length: length / 2 }, (_, k) => Math.cos((2 * Math.PI * k) / length));
  const sines = Float64Array.from({ length: length / 2 }, (_, k) => Math.sin((2 * Math.PI * k) / length));
  for (let half = 1; half < length; half *= 2) {
    const stride = length / (2 * half);
    for (let start = 0; start < length; start += 2 * half) {
      for (let k = 0; k < half; k++) {
        const [i, j] = [start + k, start + k + half];
        const [cosine, sine] = [cosines[k * stride] as number, -(sines[k * stride] as number)];
        const turnedRe = (re[j] as number) * cosine - (im[j] as number) * sine;
        const turnedIm = (re[j] as number) * sine + (im[j] as number) * cosine;
        re[j] = (re[i] as number) - turnedRe;
        im[j] = (im[i] as number) - turnedIm;
        re[i] = (re[i] as number) + turnedRe;
        im[i] = (im[i] as number) + turnedIm;
      }
    }
  }
  return { real: re, imaginary: im };
};
