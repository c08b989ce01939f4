import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { filterTypes, gainTypes } from '../../src/filters/filter.js';
import { designNames, qMeanings } from '../../src/filters/realisation.js';
import { groupDelaySeconds, logFrequencies, phaseRadians } from '../../src/filters/response.js';
import { hz } from '../../src/units/quantity.js';
import { build, complexResponse, dbAt, levelsDb } from '../filters/measure.js';

const between = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const byRatio = (low: number, high: number) => between(Math.log(low), Math.log(high)).map(Math.exp);

const sampleRates = fc.constantFrom(44100, 48000, 96000, 192000);
const designs = fc.constantFrom(...designNames);
const digitalDesigns = fc.constantFrom('cookbook' as const, 'matched' as const, 'nyquist-gain' as const);
const qs = byRatio(0.2, 30);
const gains = between(-18, 18);
const frequencies = byRatio(20, 21000);

const filters = fc
  .record({ type: fc.constantFrom(...filterTypes), frequencyHz: frequencies, q: qs, gainDb: gains })
  .map(({ gainDb, ...filter }) => (gainTypes.includes(filter.type) ? { ...filter, gainDb } : filter));

const audible = logFrequencies(hz(20), hz(21500), 12);

// Where a bound is 1e-3 dB it is rounding, and only near 20 Hz at 192 kHz does it come to as much as a tenth of that.
describe('filters, whatever their numbers', () => {
  it('every design and type gives a stable filter whose response is a number everywhere', () => {
    fc.assert(
      fc.property(filters, digitalDesigns, sampleRates, (filter, design, fs) => {
        for (const { a1, a2 } of build(filter, design, fs)) {
          expect(Math.abs(a2)).toBeLessThan(1);
          expect(Math.abs(a1)).toBeLessThan(1 + a2);
        }
        expect(levelsDb(build(filter, design, fs), audible).every(Number.isFinite)).toBe(true);
      }),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });

  it.each(['cookbook', 'analogue'] as const)(
    '%s: a boost and an equal cut are flat, for every meaning of Q that mirrors',
    (design) => {
      const mirrored = fc.constantFrom('cookbook' as const, 'classic' as const);
      fc.assert(
        fc.property(frequencies, qs, gains, mirrored, sampleRates, (frequencyHz, q, gainDb, meaning, fs) => {
          const bell = { type: 'peaking', frequencyHz, q };
          const both = [gainDb, -gainDb].flatMap((each) =>
            build({ ...bell, gainDb: each }, design, fs, meaning),
          );
          for (const level of levelsDb(both, audible)) expect(Math.abs(level)).toBeLessThan(1e-6);
        }),
      );
    },
  );

  it('a bell has its gain at its own frequency, in every design and meaning of Q', () => {
    fc.assert(
      fc.property(
        frequencies,
        qs,
        gains,
        designs,
        fc.constantFrom(...qMeanings),
        sampleRates,
        (frequencyHz, q, gainDb, design, meaning, fs) => {
          const bell = build({ type: 'peaking', frequencyHz, q, gainDb }, design, fs, meaning);
          expect(Math.abs(dbAt(bell, frequencyHz) - gainDb)).toBeLessThan(1e-3);
        },
      ),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });

  it('a bell that cuts and a notch never raise anything, and one that boosts lowers nothing', () => {
    fc.assert(
      fc.property(frequencies, qs, gains, designs, sampleRates, (frequencyHz, q, gainDb, design, fs) => {
        const bell = levelsDb(build({ type: 'peaking', frequencyHz, q, gainDb }, design, fs), audible);
        const notch = levelsDb(build({ type: 'notch', frequencyHz, q }, design, fs), audible);
        const sign = Math.sign(gainDb);
        for (const level of bell) expect(sign * level).toBeGreaterThan(-1e-5);
        for (const level of bell) expect(sign * level).toBeLessThan(sign * gainDb + 1e-3);
        for (const level of notch) expect(level).toBeLessThan(1e-5);
      }),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });

  it('the narrower a bell or notch, the less it changes anywhere', () => {
    fc.assert(
      fc.property(
        frequencies,
        qs,
        between(1.02, 3),
        gains,
        designs,
        sampleRates,
        (frequencyHz, q, ratio, gainDb, design, fs) => {
          for (const told of [
            { type: 'peaking', frequencyHz, gainDb },
            { type: 'notch', frequencyHz },
          ]) {
            const wide = levelsDb(build({ ...told, q }, design, fs), audible);
            const narrow = levelsDb(build({ ...told, q: q * ratio }, design, fs), audible);
            // Below −120 dB, at the bottom of a notch, nothing but rounding is left to compare.
            narrow.forEach((level, i) => {
              if (level < -120) return;
              expect(Math.abs(level)).toBeLessThan(Math.abs(wide[i] as number) + 1e-3);
            });
          }
        },
      ),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });

  it('gains at DC and at half the sample rate are those of the type', () => {
    fc.assert(
      fc.property(filters, sampleRates, (filter, fs) => {
        const gainDb = 'gainDb' in filter ? filter.gainDb : 0;
        const ends = {
          lowpass: [0, -Infinity],
          highpass: [-Infinity, 0],
          bandpass: [-Infinity, -Infinity],
          notch: [0, 0],
          allpass: [0, 0],
          peaking: [0, 0],
          lowshelf: [gainDb, 0],
          highshelf: [0, gainDb],
        }[filter.type];
        [0, fs / 2].forEach((frequencyHz, i) => {
          const level = dbAt(build(filter, 'cookbook', fs), frequencyHz);
          if (ends[i] === -Infinity) expect(level).toBeLessThan(-140);
          else expect(Math.abs(level - (ends[i] as number))).toBeLessThan(1e-4);
        });
      }),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });

  it('the response of a chain is the sum of its parts in dB', () => {
    fc.assert(
      fc.property(
        fc.array(filters, { minLength: 1, maxLength: 4 }),
        designs,
        sampleRates,
        (several, design, fs) => {
          const chains = several.map((filter) => build(filter, design, fs));
          const whole = levelsDb(chains.flat(), audible);
          const parts = chains.map((chain) => levelsDb(chain, audible));
          whole.forEach((level, i) => {
            // A part at the floor of −200 dB is in truth deeper still.
            if (parts.some((part) => part[i] === -200)) return;
            const sum = parts.reduce((total, part) => total + (part[i] as number), 0);
            expect(Math.abs(level - Math.max(-200, sum))).toBeLessThan(1e-9);
          });
        },
      ),
    );
  });

  it('magnitude and phase are those of plain complex arithmetic', () => {
    fc.assert(
      fc.property(
        fc.array(filters, { minLength: 1, maxLength: 3 }),
        designs,
        sampleRates,
        byRatio(200, 21500),
        (several, design, fs, f) => {
          const chain = several.flatMap((filter) =>
            build({ ...filter, frequencyHz: Math.max(200, filter.frequencyHz) }, design, fs),
          );
          const [re, im] = complexResponse(chain, f);
          fc.pre(Math.hypot(re, im) > 1e-3);
          const phase = new Float64Array(1);
          phaseRadians(chain, Float64Array.of(f), phase);
          expect(Math.abs(dbAt(chain, f) - 20 * Math.log10(Math.hypot(re, im)))).toBeLessThan(1e-5);
          expect(Math.abs(Math.sin(((phase[0] as number) - Math.atan2(im, re)) / 2))).toBeLessThan(1e-6);
        },
      ),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });

  it('group delay is the falling slope of the phase', () => {
    fc.assert(
      fc.property(
        fc.array(filters, { minLength: 1, maxLength: 3 }),
        designs,
        sampleRates,
        byRatio(100, 21000),
        (several, design, fs, f) => {
          const chain = several.flatMap((filter) =>
            build({ ...filter, frequencyHz: Math.max(100, filter.frequencyHz) }, design, fs),
          );
          const step = f * 1e-5;
          const [at, phases] = [Float64Array.of(f - step, f + step), new Float64Array(2)];
          phaseRadians(chain, at, phases);
          const turn = (phases[1] as number) - (phases[0] as number);
          const slope = (turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI))) / (4 * Math.PI * step);
          // A notch or the like within the step turns the phase at once, and that is no delay.
          fc.pre(dbAt(chain, f) > -60);
          const delay = new Float64Array(1);
          groupDelaySeconds(chain, Float64Array.of(f), delay);
          expect(Math.abs((delay[0] as number) + slope) * f).toBeLessThan(1e-3 * (1 + Math.abs(slope) * f));
        },
      ),
      { numRuns: Number(process.env.RUNS ?? 250) },
    );
  });
});
