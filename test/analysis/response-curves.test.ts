import { OfflineAudioContext } from 'node-web-audio-api';
import { describe, expect, it } from 'vitest';
import { type DeskCurves, responseCurves, standingCurves } from '../../src/analysis/response-curves.js';
import type { Filter, FilterType } from '../../src/filters/filter.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import type { PlacedFilter, RecipeMix } from '../../src/model/recipe.js';
import type { Target } from '../../src/model/target.js';
import { cents, db, hz, q } from '../../src/units/quantity.js';
import { mixOf, targetWith } from './hand-made.js';

/** A filter of the cookbook by plain numbers; 0 dB for what has no gain. */
type Plain = readonly [type: FilterType, frequencyHz: number, q: number, gainDb?: number];

const filterOf = ([type, frequencyHz, width, gainDb]: Plain): Filter => ({
  type,
  frequencyHz: hz(frequencyHz),
  q: q(width),
  ...(gainDb === undefined ? {} : { gainDb: db(gainDb) }),
});

/** By getFrequencyResponse of node-web-audio-api; cuts take Q in dB there (W3C Web Audio API). */
const theirs = (chain: readonly Plain[], sampleRateHz: number, frequenciesHz: Float64Array) => {
  const context = new OfflineAudioContext(1, 1, sampleRateHz);
  const levelsDb = new Float64Array(frequenciesHz.length);
  for (const [type, frequencyHz, width, gainDb = 0] of chain) {
    const node = context.createBiquadFilter();
    node.type = type;
    node.frequency.value = frequencyHz;
    node.Q.value = type === 'lowpass' || type === 'highpass' ? 20 * Math.log10(width) : width;
    node.gain.value = gainDb;
    const magnitude = new Float32Array(frequenciesHz.length);
    node.getFrequencyResponse(
      Float32Array.from(frequenciesHz),
      magnitude,
      new Float32Array(magnitude.length),
    );
    for (const [index, value] of magnitude.entries())
      levelsDb[index] = (levelsDb[index] ?? 0) + 20 * Math.log10(value);
  }
  return levelsDb;
};

/**
 * What single precision of frequencies and parameters leaves where curves are steep (an ulp of 19 kHz is 2 mHz, and at
 * -50 dB a notch of Q 10 changes by 3 mdB in that); deeper only that they are deep.
 */
const toleranceDb = 0.005;
const deepDb = -50;

const expectSame = (found: Float64Array, expected: Float64Array, toleranceOf = toleranceDb) => {
  expect(found.length).toBe(expected.length);
  const wrong = Array.from(found, (level, index) => [index, level, expected[index] ?? 0] as const).filter(
    ([, ours, their]) =>
      Number.isNaN(their)
        ? !Number.isNaN(ours)
        : their < deepDb
          ? !(ours < deepDb + 1)
          : !(Math.abs(ours - their) < toleranceOf),
  );
  expect(wrong).toEqual([]);
};

/** The cookbook at two sample rates; the lower rate's curves end at 22.05 kHz. */
const ratesHz = [44100, 48000] as const;
const target: Target = {
  ...targetWith(2),
  realisations: ratesHz.map((rateHz) => ({
    id: `at-${rateHz}`,
    design: 'cookbook',
    qMeaning: 'cookbook',
    sampleRateHz: hz(rateHz),
  })),
};

/** The most that each way leaves in a window. */
const highestIn = (levelsDb: Float64Array, frequenciesHz: Float64Array, pilotHz: number, windowHz: number) =>
  Math.max(
    ...levelsDb.filter(
      (level, index) => Math.abs((frequenciesHz[index] ?? 0) - pilotHz) <= windowHz && !Number.isNaN(level),
    ),
  );

/** Holds curves against the chain they are said to be of; which way is drawn, as the window has it. */
const expectCurves = (
  found: DeskCurves | null,
  chain: readonly Plain[],
  frequenciesHz: Float64Array,
  [pilotHz, windowHz]: readonly [number, number],
  worstRateHz: number,
) => {
  const [one, other] = ratesHz.map((rateHz) => theirs(chain, rateHz, frequenciesHz)) as [
    Float64Array,
    Float64Array,
  ];
  const [high, higher] = [one, other].map((each) => highestIn(each, frequenciesHz, pilotHz, windowHz)) as [
    number,
    number,
  ];
  // The cases are made so that the two can be told apart.
  expect(Math.abs(high - higher)).toBeGreaterThan(0.1);
  expect(high > higher ? ratesHz[0] : ratesHz[1]).toBe(worstRateHz);
  const known = (levels: readonly number[]) => levels.filter((level) => !Number.isNaN(level));
  const pairs = Array.from(one, (level, index) => known([level, other[index] ?? Number.NaN]));
  const envelope = (choose: (...levels: number[]) => number) =>
    Float64Array.from(pairs, (levels) => (levels.length === 0 ? Number.NaN : choose(...levels)));
  if (!found) expect.fail('no curves');
  expectSame(found.lowestDb, envelope(Math.min));
  expectSame(found.highestDb, envelope(Math.max));
  expect(found.realisation).toBe(`at-${worstRateHz}`);
  expectSame(found.levelsDb, high > higher ? one : other);
};

const placed = (role: string, set: Plain, asked: Plain, askedRole = role): PlacedFilter => ({
  slot: role,
  role,
  type: set[0],
  asked: { role: askedRole, ...filterOf(asked) },
  set: filterOf(set),
  steps: {},
  error: { frequencyHz: hz(0), frequencyCents: cents(0) },
});

/** Numbers that single precision holds exactly. */
const set: readonly Plain[] = [
  ['highpass', 42, 0.75],
  ['peaking', 18500, 4, -12],
  ['notch', 19500, 8],
  ['lowpass', 14500, 0.875],
];
const byHand: readonly Plain[] = [['peaking', 17500, 6, -15]];
const asked: readonly Plain[] = [
  ['highpass', 40, 0.5],
  ['peaking', 19000, 10, -15],
  ['lowpass', 15000, 0.75],
];
const missing: Plain = ['notch', 18800, 3];

const mix: RecipeMix = {
  ...mixOf(
    { pilotDb: 20 },
    [
      placed('low-cut', set[0] as Plain, asked[0] as Plain),
      placed('pilot-cut', set[1] as Plain, asked[1] as Plain),
      // A further cut beside the one asked for goes by a role of its own: nobody asked for it.
      placed('pilot-cut-2', set[2] as Plain, asked[1] as Plain, 'pilot-cut'),
      placed('high-cut', set[3] as Plain, asked[2] as Plain),
    ],
    [{ role: 'more', type: 'notch', asked: { role: 'more', ...filterOf(missing) }, why: 'no-place' }],
  ),
  nearest: {
    filters: [placed('pilot-cut', byHand[0] as Plain, asked[1] as Plain)],
    worst: {} as never,
  },
};

/** |H(jw)| in dB of the prototypes in the W3C Audio EQ Cookbook, s over the filter's own frequency. */
const prototypeDb = ([type, frequencyHz, width, gainDb = 0]: Plain, atHz: number): number => {
  const w = atHz / frequencyHz;
  const a = 10 ** (gainDb / 40);
  const size = (real: number, imaginary: number) => Math.hypot(real, imaginary);
  const cut = size(1 - w * w, w / width);
  const ratio = {
    lowpass: 1 / cut,
    highpass: (w * w) / cut,
    notch: Math.abs(1 - w * w) / cut,
    peaking: size(1 - w * w, (w * a) / width) / size(1 - w * w, w / (a * width)),
  }[type as 'lowpass'];
  return 20 * Math.log10(ratio);
};

describe('the curves of a recipe', () => {
  const curves = responseCurves(mix, target);
  const { frequenciesHz } = curves;

  it('are set and by hand, each over both ways of building and drawn in its own worst for the pilot', () => {
    expectCurves(curves.set, set, frequenciesHz, [19000, 100], 48000);
    expectCurves(curves.nearest, byHand, frequenciesHz, [19000, 100], 44100);
    expect(responseCurves({ ...mix, nearest: null }, target).nearest).toBeNull();
  });

  it('are asked of the prototypes, of what is missing too, and not of further cuts', () => {
    const expected = frequenciesHz.map((atHz) =>
      [...asked, missing].reduce((sum, filter) => sum + prototypeDb(filter, atHz), 0),
    );
    expectSame(curves.asked, expected, 1e-6);
  });

  it('are looked at from 20 Hz to 24 kHz, closely near the pilot, and wherever a filter or the window says', () => {
    const at = new Set(frequenciesHz);
    const own = [...set, ...byHand, ...asked, missing].map(([, frequencyHz]) => frequencyHz);
    for (const each of [20, ...own, 18900, 19000, 19100, 24000])
      expect([each, at.has(each)]).toEqual([each, true]);
    const gaps = frequenciesHz.slice(1).map((each, index) => each - (frequenciesHz[index] ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThan(0);
    expect(Math.max(...gaps.filter((_, index) => (frequenciesHz[index] ?? 0) >= 12000))).toBeLessThanOrEqual(
      10,
    );
  });

  it('are drawn in the way that is worst by what it reaches, where another ends inside the window', () => {
    const guard = mix.guard && { ...mix.guard, pilotHz: hz(22000) };
    const high = responseCurves({ ...mix, guard }, target);
    expectCurves(high.set, set, high.frequenciesHz, [22000, 100], 48000);
  });

  it('are drawn in the first way where nothing is guarded', () => {
    const plain = responseCurves({ ...mix, guard: null }, target);
    expect(plain.set.realisation).toBe('at-44100');
    expectSame(plain.set.levelsDb, theirs(set, 44100, plain.frequenciesHz));
  });
});

describe('the curves of what stands', () => {
  const scope = guardScope(hz(19000));

  it('are of what stands and of the other setting, each in its own worst way', () => {
    const curves = standingCurves(byHand.map(filterOf), set.map(filterOf), target, scope);
    expectCurves(curves.stands, byHand, curves.frequenciesHz, [19000, 100], 44100);
    expectCurves(curves.other, set, curves.frequenciesHz, [19000, 100], 48000);
  });

  it('are of what stands alone where no other setting is known', () => {
    const curves = standingCurves(set.map(filterOf), null, target, scope);
    expectCurves(curves.stands, set, curves.frequenciesHz, [19000, 100], 48000);
    expect(curves.other).toBeNull();
  });
});
