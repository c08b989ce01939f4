import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { protect } from '../../src/fitting/protect/protect.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { GuardWishes, Rig } from '../../src/model/rig.js';
import type { Target } from '../../src/model/target.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { db, hz } from '../../src/units/quantity.js';

const targetNamed = (id: string): Target =>
  JSON.parse(readFileSync(new URL(`../../targets/${id}.json`, import.meta.url), 'utf8'));

const rig: Rig = {
  format: 'bandwright-rig/1',
  title: 'A show for tests',
  systems: {
    packs: {
      link: 'fm-stereo',
      audioLowHz: hz(40),
      audioHighHz: hz(15000),
      pilotHz: hz(19000),
      preEmphasisMicroseconds: 50,
    },
  },
  mixes: [{ name: 'Voice', outputs: [1, 2], feeds: 'packs' }],
};

const fitOn = (target: Target, guard: GuardWishes = {}, spareSlots = 0) => {
  const desk = makeDesk(target);
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  const recipe = makeRecipe(rig, desk.value, { fit: protect, spareSlots, guard });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  const [mix] = recipe.value.mixes;
  if (!mix?.guard || !mix.nearest) throw new Error('nothing was guarded');
  return { mix, guard: mix.guard, nearest: mix.nearest, problems: recipe.value.problems };
};

/** Attenuation of W3C cookbook filters at 48 kHz by plain complex arithmetic, in dB. */
const takes = (coefficients: readonly (readonly number[])[], frequencyHz: number): number => {
  const w = (2 * Math.PI * frequencyHz) / 48000;
  const power = ([c0 = 0, c1 = 0, c2 = 0]: readonly number[]): number =>
    (c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w)) ** 2 + (c1 * Math.sin(w) + c2 * Math.sin(2 * w)) ** 2;
  return coefficients.reduce(
    (sum, [b0 = 0, b1 = 0, b2 = 0, ...a]) => sum - 10 * Math.log10(power([b0, b1, b2]) / power(a)),
    0,
  );
};
const bell = (frequencyHz: number, q: number, gainDb: number): readonly number[] => {
  const [A, w0] = [10 ** (gainDb / 40), (2 * Math.PI * frequencyHz) / 48000];
  const [alpha, c1] = [Math.sin(w0) / (2 * q), -2 * Math.cos(w0)];
  return [1 + alpha * A, c1, 1 - alpha * A, 1 + alpha / A, c1, 1 - alpha / A];
};
const butterworthHighCut = (frequencyHz: number): readonly number[] => {
  const w0 = (2 * Math.PI * frequencyHz) / 48000;
  const [alpha, c] = [Math.sin(w0) * Math.SQRT1_2, Math.cos(w0)];
  return [(1 - c) / 2, 1 - c, (1 - c) / 2, 1 + alpha, -2 * c, 1 - alpha];
};

describe('179 logarithmic points, one cookbook realisation at 48 kHz, a window of 50 Hz either way', () => {
  const archetype = targetNamed('log-179');
  const { guard, nearest, mix } = fitOn(
    { ...archetype, realisations: archetype.realisations.filter(({ id }) => id === 'cookbook-48k') },
    { windowHz: hz(50), keepLossAtMostDb: db(1) },
  );

  it('takes at least 22 dB from the pilot for at most 1 dB of music, with one high cut and one bell', () => {
    expect(mix.filters.map(({ role }) => role).sort()).toEqual(['high-cut', 'low-cut', 'pilot-cut']);
    expect(guard.worst.pilotAttenuationDb).toBeGreaterThanOrEqual(22);
    expect(guard.worst.keepLossDb).toBeLessThanOrEqual(1);
    expect(guard.worst.riseDb).toBeLessThanOrEqual(0.1);
  });

  it('and says so truly: the same by plain arithmetic at both ends of the window', () => {
    const set = (role: string) => mix.filters.find((placed) => placed.role === role)?.set;
    const [cut, high] = [set('pilot-cut'), set('high-cut')];
    const chain = [
      bell(cut?.frequencyHz ?? 0, cut?.q ?? 0, cut?.gainDb ?? 0),
      butterworthHighCut(high?.frequencyHz ?? 0),
    ];
    // The low cut at 40 Hz takes nothing up there.
    const least = Math.min(takes(chain, 18950), takes(chain, 19050));
    expect(guard.worst.pilotAttenuationDb).toBeCloseTo(least, 3);
  });

  it('where the nearest steps take about 17 dB', () => {
    // Points of 179 from 26 Hz to 21.7 kHz and of 58 from Q 0.33 to 10.6: the nearest to 19 kHz, 15 kHz and Q 10.
    const pointHz = (point: number) => 26 * (21_700 / 26) ** (point / 178);
    const nearestQ = 0.33 * (10.6 / 0.33) ** (56 / 57);
    const chain = [bell(pointHz(174), nearestQ, -15), butterworthHighCut(pointHz(168))];
    // The bell lies below the pilot, so the upper end of the window is where least is taken.
    expect(takes(chain, 19050)).toBeCloseTo(17, 0);
    expect(nearest.worst.pilotAttenuationDb).toBeCloseTo(takes(chain, 19050), 3);
  });
});

describe('hopeless cases are told', () => {
  it.each([
    {
      desk: 'graphic-31',
      codes: ['beyond-range', 'no-place', 'no-place'],
      says: /high cut at 15 kHz.*left out/,
    },
    { desk: 'four-band', codes: ['left-out', 'substitute'], says: /bell at 19 kHz.*left out/ },
    { desk: 'two-legs', codes: ['beyond-range'], says: /its gain ends at -6\.00 dB/ },
  ])('$desk', ({ desk, codes, says }) => {
    const { problems, guard } = fitOn(targetNamed(desk));
    expect(problems.map(({ code }) => code).sort()).toEqual(codes);
    expect(problems.map(({ message }) => message).join(' ')).toMatch(says);
    for (const { message } of problems) expect(message).toMatch(/^Asked: .+\. .+\./);
    expect(guard.verdict).toBe('falls-short');
  });
});

describe('slots to spare', () => {
  it('let a second cut straddle the pilot, for much more attenuation at no more loss', () => {
    const [one, two] = [fitOn(targetNamed('cut-section')), fitOn(targetNamed('cut-section'), {}, 1)];
    expect(two.mix.filters.map(({ role }) => role)).toContain('pilot-cut-2');
    expect(two.guard.worst.pilotAttenuationDb).toBeGreaterThan(one.guard.worst.pilotAttenuationDb + 6);
    expect(two.guard.worst.keepLossDb).toBeLessThanOrEqual(two.guard.limits.keepLossAsAskedDb ?? 0);
  });
});

describe('a high cut whose hump rises to the limit between the points of a coarse look', () => {
  const frequencyHz = hz(15009.07);
  const withQ = (q: number): Target => ({
    format: 'bandwright-target/1',
    id: 'hump',
    title: 'One high cut that resonates a little',
    provenance: 'invented',
    outputs: { count: 2, stereo: 'legs-share' },
    quantisers: {},
    slots: [{ id: '1', types: { lowpass: { frequency: frequencyHz, q } } }],
    realisations: [{ id: 'analogue', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null }],
    display: {},
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  });
  // Of a second-order high cut |H|⁻² = (1 − x²)² + x²/Q², greatest at Q / √(1 − 1/(4Q²)) (handbook formulae).
  const peakDb = (q: number) => 20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q * q)));
  const mostAtPointsDb = (q: number) =>
    Math.max(
      ...Array.from({ length: 239 }, (_, i) => (20 * 2 ** (i / 24)) / frequencyHz).map(
        (x) => -10 * Math.log10((1 - x * x) ** 2 + (x / q) ** 2),
      ),
    );

  it('is not chosen, though points 24 an octave see no more than the limit', () => {
    const q = 0.767376;
    expect(peakDb(q)).toBeGreaterThan(0.10003);
    expect(mostAtPointsDb(q)).toBeLessThan(0.09999);
    const { mix, guard } = fitOn(withQ(q), { keepLossAtMostDb: db(1) });
    expect(mix.filters).toEqual([]);
    expect(guard.worst.riseDb).toBeLessThanOrEqual(0);
  });

  it('is chosen where its peak itself keeps the limit', () => {
    const q = 0.7672;
    expect(peakDb(q)).toBeLessThan(0.0999);
    const { mix, guard } = fitOn(withQ(q), { keepLossAtMostDb: db(1) });
    expect(mix.filters.map(({ type }) => type)).toEqual(['lowpass']);
    expect(guard.worst.riseDb).toBeCloseTo(peakDb(q), 9);
  });
});
