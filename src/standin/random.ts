const bits64 = (1n << 64n) - 1n;
const bits53 = 2 ** 53;

/** The numbers of SplitMix64: 64 bits each. */
export const splitMix64 = (seed: bigint): (() => bigint) => {
  let state = seed & bits64;
  return () => {
    state = (state + 0x9e3779b97f4a7c15n) & bits64;
    let mixed = state;
    mixed = ((mixed ^ (mixed >> 30n)) * 0xbf58476d1ce4e5b9n) & bits64;
    mixed = ((mixed ^ (mixed >> 27n)) * 0x94d049bb133111ebn) & bits64;
    return mixed ^ (mixed >> 31n);
  };
};

const within01 = (next: () => bigint) => () => Number(next() >> 11n) / bits53;

/**
 * Streams of numbers within [0, 1), one more at each call, the same for the same seed: SplitMix64 (Steele, Lea and
 * Flood, Fast splittable pseudorandom number generators, OOPSLA 2014), the upper 53 bits of each number, each
 * stream seeded by the next number of a stream of seeds. Neighbouring seeds have nothing in common, so that runs
 * may simply be numbered.
 */
export const randomStreams = (seed: number): (() => () => number) => {
  const seeds = splitMix64(BigInt(seed));
  return () => within01(splitMix64(seeds()));
};
