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
