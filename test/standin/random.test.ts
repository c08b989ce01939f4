import { describe, expect, it } from 'vitest';
import { randomStreams, splitMix64 } from '../../src/standin/random.js';

describe('chance', () => {
  it('is SplitMix64', () => {
    const next = splitMix64(1_234_567n);
    // Rosetta Code, "Pseudo-random numbers/Splitmix64", from memory; the reference C code is S. Vigna's, 2015.
    expect([next(), next(), next(), next(), next()]).toEqual([
      6_457_827_717_110_365_317n,
      3_203_168_211_198_807_973n,
      9_817_491_932_198_370_423n,
      4_593_380_528_125_082_431n,
      16_408_922_859_458_223_821n,
    ]);
  });

  it('lies within [0, 1), evenly, whatever the seed, and neighbouring seeds have nothing in common', () => {
    const firsts = Array.from({ length: 10_000 }, (_, seed) => randomStreams(seed)()());
    expect(Math.min(...firsts)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...firsts)).toBeLessThan(1);
    // 1000 are due in each tenth, give or take 30; five times that is next to impossible.
    const tenths = Array.from(
      { length: 10 },
      (_, n) => firsts.filter((x) => Math.floor(x * 10) === n).length,
    );
    for (const count of tenths) expect(Math.abs(count - 1000)).toBeLessThan(150);
    expect(new Set(firsts).size).toBe(10_000);
  });

  it('is the same for the same seed, and another one in each stream', () => {
    const take = (seed: number) => {
      const nextStream = randomStreams(seed);
      const [one, two] = [nextStream(), nextStream()];
      return [one(), one(), two(), two()];
    };
    expect(take(5)).toEqual(take(5));
    expect(new Set(take(5)).size).toBe(4);
  });
});
