import type { Hz } from '../units/quantity.js';

/** Two frequencies this near, as a ratio, are one: the rounding of 2^x. */
const rounding = 1e-12;

/**
 * Frequencies evenly spaced by ratio: from the lower end upwards at 1/perOctave octave, and the upper end
 * itself, whether or not it falls on a step. Rising, each once, in hertz.
 *
 * Throws RangeError unless 0 < fromHz ≤ toHz and perOctave is above 0.
 */
export const logFrequencies = (fromHz: Hz, toHz: Hz, perOctave: number): Float64Array => {
  if (!(fromHz > 0 && toHz >= fromHz && toHz < Infinity && perOctave > 0 && perOctave < Infinity)) {
    throw new RangeError(`no frequencies from ${fromHz} to ${toHz} Hz at ${perOctave} per octave`);
  }
  const stepsBelowEnd = Math.ceil(perOctave * Math.log2((toHz / fromHz) * (1 - rounding)));
  const frequenciesHz = new Float64Array(Math.max(0, stepsBelowEnd) + 1);
  for (let i = 0; i < stepsBelowEnd; i++) frequenciesHz[i] = fromHz * Math.exp((i / perOctave) * Math.LN2);
  frequenciesHz[frequenciesHz.length - 1] = toHz;
  return frequenciesHz;
};
