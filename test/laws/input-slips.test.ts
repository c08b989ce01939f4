import fc from 'fast-check';
import { expect, it } from 'vitest';
import { linkLimits } from '../../src/documents/rules/rig/link-limits.js';
import { rigRules } from '../../src/documents/rules/rig/registry.js';
import {
  type LinkFrequency,
  linkFrequencyFault,
  linkRangesHz,
  preEmphasisFault,
} from '../../src/model/link-limits.js';
import { type OutputPair, pairFault } from '../../src/model/pairs.js';
import { hz } from '../../src/units/quantity.js';

const keys = Object.keys(linkRangesHz) as LinkFrequency[];
const within = (key: LinkFrequency): fc.Arbitrary<number> =>
  fc.integer({ min: linkRangesHz[key].leastHz, max: linkRangesHz[key].mostHz });
const anyFrequency = fc.oneof(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), ...keys.map(within));

const rigOf = (audioLowHz: number, audioHighHz: number, pilotHz: number) => ({
  format: 'bandwright-rig/1' as const,
  title: 'Law',
  systems: {
    packs: {
      link: 'fm-stereo' as const,
      audioLowHz: hz(audioLowHz),
      audioHighHz: hz(audioHighHz),
      pilotHz: hz(pilotHz),
    },
  },
  mixes: [{ name: 'One', outputs: [1], feeds: 'packs' }],
});

it.each(keys)('what %s may be is refused in kHz, and the hint writes it back in Hz', (key) => {
  fc.assert(
    fc.property(within(key), (frequencyHz) => {
      expect(linkFrequencyFault(key, frequencyHz)).toBeNull();
      expect(linkFrequencyFault(key, frequencyHz / 1000)).toMatch(new RegExp(`: write ${frequencyHz}\\.$`));
    }),
  );
});

it('audio limits that are swapped are told as one mistake, and written the right way round are none', () => {
  fc.assert(
    fc.property(within('audioLowHz'), within('audioHighHz'), (low, high) => {
      const told = linkLimits.check(rigOf(high, low, 19000));
      expect(told).toHaveLength(1);
      expect(told[0]?.message).toContain(`Write ${low} for audioLowHz and ${high} for audioHighHz.`);
      expect(linkLimits.check(rigOf(low, high, 19000))).toEqual([]);
    }),
  );
});

it('whatever the three frequencies are, none is told twice, and a rig that passes has low < high < pilot', () => {
  let passed = 0;
  fc.assert(
    fc.property(anyFrequency, anyFrequency, anyFrequency, (low, high, pilot) => {
      const rig = rigOf(low, high, pilot);
      const told = rigRules.flatMap((rule) => rule.check(rig));
      expect(new Set(told.map(({ path }) => path)).size).toBe(told.length);
      if (told.length > 0) return;
      passed++;
      expect(low).toBeLessThan(high);
      expect(high).toBeLessThan(pilot);
    }),
    { numRuns: 5000 },
  );
  expect(passed).toBeGreaterThan(10);
});

it('a pre-emphasis from 10 to 150 µs is refused in milliseconds and in seconds, and the hint writes it back', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 10, max: 150 }),
      fc.constantFrom(['milliseconds', 1e3] as const, ['seconds', 1e6] as const),
      (microseconds, [unit, divisor]) => {
        expect(preEmphasisFault(microseconds)).toBeNull();
        expect(preEmphasisFault(microseconds / divisor)).toContain(
          `that is ${microseconds} microseconds in ${unit}: write ${microseconds}.`,
        );
      },
    ),
  );
});

const listedPairs = fc
  .shuffledSubarray([1, 2, 3, 4, 5, 6, 7, 8], { minLength: 2 })
  .map((outputs) =>
    Array.from(
      { length: Math.floor(outputs.length / 2) },
      (_, n) => `${outputs[2 * n]}/${outputs[2 * n + 1]}`,
    ),
  );

it('of two outputs that may be no pair, every pair it is told to write instead is one', () => {
  let instead = 0;
  fc.assert(
    fc.property(
      fc.integer({ min: 8, max: 40 }),
      fc.oneof(fc.constantFrom('odd-even', undefined), listedPairs),
      fc.uniqueArray(fc.integer({ min: 1, max: 40 }), { minLength: 2, maxLength: 2 }),
      (count, pairs, outputs) => {
        const desk = { count, stereo: 'legs-share' as const, ...(pairs === undefined ? {} : { pairs }) };
        const target = { id: 'law', outputs: desk };
        const wrote: OutputPair[] = [];
        const fault = pairFault(outputs, target, (pair) => {
          wrote.push(pair);
          return `<${pair.join(' ')}>`;
        });
        const [left = 0, right = 0] = outputs;
        const isListed = typeof pairs === 'object' && pairs.includes(`${left}/${right}`);
        const isNext = typeof pairs !== 'object' && left % 2 === 1 && right === left + 1 && right <= count;
        expect(fault === null).toBe(isListed || isNext);
        for (const pair of wrote) {
          instead++;
          expect(pairFault(pair, target)).toBeNull();
          expect(pair.some((output) => outputs.includes(output))).toBe(true);
        }
        expect(pairFault(outputs, { id: 'law', outputs: { ...desk, pairs: 'any' } })).toBeNull();
        expect(pairFault(outputs, { id: 'law', outputs: { count, stereo: 'legs-separate' } })).toBeNull();
        expect(pairFault(outputs.slice(1), target)).toBeNull();
      },
    ),
  );
  expect(instead).toBeGreaterThan(20);
});
