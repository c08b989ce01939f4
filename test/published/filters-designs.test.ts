import { describe, expect, it } from 'vitest';
import type { DesignName } from '../../src/filters/realisation.js';
import type { Section } from '../../src/filters/section.js';
import { build, complexResponse, crossing, dbAt } from '../filters/measure.js';

const magnitude = (sections: readonly Section[], frequencyHz: number) =>
  Math.hypot(...complexResponse(sections, frequencyHz));

const cookbookSource = 'W3C Audio EQ Cookbook, Note of 8 June 2021, printed coefficients';

/** The cookbook's coefficients as printed, written out here from the Note; alpha = sin ω0 / (2Q). */
const printed = (type: string, w0: number, q: number, gainDb: number) => {
  const A = 10 ** (gainDb / 40);
  const c = Math.cos(w0);
  const alpha = Math.sin(w0) / (2 * q);
  const shelf = 2 * Math.sqrt(A) * alpha;
  const table: Record<string, readonly number[]> = {
    lowpass: [(1 - c) / 2, 1 - c, (1 - c) / 2, 1 + alpha, -2 * c, 1 - alpha],
    highpass: [(1 + c) / 2, -(1 + c), (1 + c) / 2, 1 + alpha, -2 * c, 1 - alpha],
    bandpass: [alpha, 0, -alpha, 1 + alpha, -2 * c, 1 - alpha],
    notch: [1, -2 * c, 1, 1 + alpha, -2 * c, 1 - alpha],
    allpass: [1 - alpha, -2 * c, 1 + alpha, 1 + alpha, -2 * c, 1 - alpha],
    peaking: [1 + alpha * A, -2 * c, 1 - alpha * A, 1 + alpha / A, -2 * c, 1 - alpha / A],
    lowshelf: [
      A * (A + 1 - (A - 1) * c + shelf),
      2 * A * (A - 1 - (A + 1) * c),
      A * (A + 1 - (A - 1) * c - shelf),
      A + 1 + (A - 1) * c + shelf,
      -2 * (A - 1 + (A + 1) * c),
      A + 1 + (A - 1) * c - shelf,
    ],
    highshelf: [
      A * (A + 1 + (A - 1) * c + shelf),
      -2 * A * (A - 1 + (A + 1) * c),
      A * (A + 1 + (A - 1) * c - shelf),
      A + 1 - (A - 1) * c + shelf,
      2 * (A - 1 - (A + 1) * c),
      A + 1 - (A - 1) * c - shelf,
    ],
  };
  const [b0, b1, b2, a0, a1, a2] = table[type] as [number, number, number, number, number, number];
  return [b0 / a0, b1 / a0, b2 / a0, a1 / a0, a2 / a0];
};

describe(cookbookSource, () => {
  const gains: Record<string, readonly number[]> = {
    peaking: [-18, 3],
    lowshelf: [-6, 9],
    highshelf: [-12, 4],
  };
  const cases = [
    'lowpass',
    'highpass',
    'bandpass',
    'notch',
    'allpass',
    'peaking',
    'lowshelf',
    'highshelf',
  ].flatMap((type) =>
    [40, 1000, 15000, 19000].flatMap((frequencyHz) =>
      [0.5, Math.SQRT1_2, 5].flatMap((q) =>
        (gains[type] ?? [undefined]).map((gainDb) => ({ type, frequencyHz, q, gainDb })),
      ),
    ),
  );

  it.each(cases)('$type at $frequencyHz Hz, Q $q, $gainDb dB', ({ type, frequencyHz, q, gainDb }) => {
    const [section] = build(
      { type, frequencyHz, q, ...(gainDb === undefined ? {} : { gainDb }) },
      'cookbook',
      48000,
    );
    const expected = printed(type, (2 * Math.PI * frequencyHz) / 48000, q, gainDb ?? 0);
    const found = [section?.b0, section?.b1, section?.b2, section?.a1, section?.a2];
    expected.forEach((coefficient, i) => {
      expect(Math.abs((found[i] as number) - coefficient)).toBeLessThan(1e-14);
    });
  });

  it('a bandwidth in octaves is the digital one: alpha = sin ω0 · sinh(ln 2 / 2 · BW · ω0 / sin ω0)', () => {
    const w0 = (2 * Math.PI * 19000) / 48000;
    const alpha = Math.sin(w0) * Math.sinh(((Math.LN2 / 2) * (1 / 3) * w0) / Math.sin(w0));
    const filter = { type: 'peaking', frequencyHz: 19000, gainDb: -18 };
    const [found] = build({ ...filter, bandwidthOctaves: 1 / 3 }, 'cookbook', 48000);
    const expected = printed('peaking', w0, Math.sin(w0) / (2 * alpha), -18);
    expect(found?.b0).toBeCloseTo(expected[0] as number, 13);
    expect(found?.a2).toBeCloseTo(expected[4] as number, 13);
  });

  it('a shelf that tells no width has S = 1, alpha = sin ω0 / √2', () => {
    const [found] = build({ type: 'highshelf', frequencyHz: 15000, gainDb: -12 }, 'cookbook', 48000);
    const expected = printed('highshelf', (2 * Math.PI * 15000) / 48000, Math.SQRT1_2, -12);
    expect(found?.b0).toBeCloseTo(expected[0] as number, 13);
    expect(found?.a2).toBeCloseTo(expected[4] as number, 13);
  });
});

describe('Orfanidis 1997: what the design prescribes, measured', () => {
  const cases = [
    { frequencyHz: 8000, q: 1.5, gainDb: 12 },
    { frequencyHz: 19000, q: 5, gainDb: -18 },
    { frequencyHz: 19000, q: 5, gainDb: 12 },
    { frequencyHz: 1000, q: 0.7, gainDb: -6 },
    { frequencyHz: 15000, q: 10, gainDb: -60 },
  ];

  it.each(cases)('$frequencyHz Hz, Q $q, $gainDb dB', ({ frequencyHz, q, gainDb }) => {
    const bell = build({ type: 'peaking', frequencyHz, q, gainDb }, 'nyquist-gain', 48000);
    const analogue = build({ type: 'peaking', frequencyHz, q, gainDb }, 'analogue', null);
    expect(magnitude(bell, 0)).toBeCloseTo(1, 10);
    expect(dbAt(bell, frequencyHz)).toBeCloseTo(gainDb, 8);
    expect(dbAt(bell, 24000)).toBeCloseTo(dbAt(analogue, 24000), 8);
    // Δw = w0 / Q between the points of half the gain in dB.
    const excess = (f: number) => dbAt(bell, f) - gainDb / 2;
    const lowHz = crossing(excess, 20, frequencyHz);
    const highHz = crossing(excess, frequencyHz, 24000);
    expect(highHz - lowHz).toBeCloseTo(frequencyHz / q, 5);
  });

  it('a notch is −3.01 dB at the edges of a band f/Q wide', () => {
    const notch = build({ type: 'notch', frequencyHz: 19000, q: 5 }, 'nyquist-gain', 48000);
    const excess = (f: number) => dbAt(notch, f) - 10 * Math.log10(0.5);
    expect(crossing(excess, 19000, 24000) - crossing(excess, 20, 19000)).toBeCloseTo(3800, 5);
    expect(dbAt(notch, 19000)).toBeLessThan(-140);
  });

  it('bells too wide for a band edge below half the sample rate still keep their three gains', () => {
    for (const q of [0.4, 1, 2, 2.12]) {
      const told = { type: 'peaking', frequencyHz: 19000, q, gainDb: -15 };
      const bell = build(told, 'nyquist-gain', 48000);
      expect(magnitude(bell, 0)).toBeCloseTo(1, 10);
      expect(dbAt(bell, 19000)).toBeCloseTo(-15, 8);
      expect(dbAt(bell, 24000)).toBeCloseTo(dbAt(build(told, 'analogue', null), 24000), 8);
    }
  });
});

describe('Vicanek 2016: what the design matches, measured', () => {
  const cases = [
    { type: 'lowpass', frequencyHz: 15000, q: Math.SQRT1_2, atDc: 1 },
    { type: 'lowpass', frequencyHz: 3000, q: 4, atDc: 1 },
    { type: 'highpass', frequencyHz: 40, q: Math.SQRT1_2, atDc: 0 },
    { type: 'highpass', frequencyHz: 8000, q: 2, atDc: 0 },
    { type: 'bandpass', frequencyHz: 1000, q: 2, atDc: 0 },
    { type: 'peaking', frequencyHz: 19000, q: 5, gainDb: -18, atDc: 1 },
    { type: 'peaking', frequencyHz: 19000, q: 0.4, gainDb: 12, atDc: 1 },
    { type: 'notch', frequencyHz: 19000, q: 5, atDc: 1 },
  ];

  it.each(cases)(
    '$type at $frequencyHz Hz: the analogue gain at DC and at its frequency, its poles',
    ({ atDc, ...told }) => {
      const matched = build(told, 'matched', 48000);
      expect(magnitude(matched, 0)).toBeCloseTo(atDc, 9);
      const wanted = dbAt(build(told, 'analogue', null), told.frequencyHz);
      if (told.type === 'notch') expect(dbAt(matched, told.frequencyHz)).toBeLessThan(-200 + 1e-9);
      else expect(dbAt(matched, told.frequencyHz)).toBeCloseTo(wanted, 8);
      // z = e^(s/fs) turns the product of the poles into e^(−ω0 / Q).
      const [analogue] = build(told, 'analogue', null);
      const w0 = (2 * Math.PI * told.frequencyHz) / 48000;
      expect(matched[0]?.a2).toBeCloseTo(Math.exp(-w0 * (analogue?.a1 as number)), 12);
    },
  );

  it.each(cases.filter(({ type }) => type === 'peaking' || type === 'bandpass'))(
    'the $type at $frequencyHz Hz turns at its own frequency',
    ({ atDc: _, ...told }) => {
      const sections = build(told, 'matched', 48000);
      const slope = (dbAt(sections, told.frequencyHz + 1) - dbAt(sections, told.frequencyHz - 1)) / 2;
      expect(Math.abs(slope)).toBeLessThan(1e-5);
    },
  );

  it.each([
    { type: 'lowpass', frequencyHz: 15000 },
    { type: 'highpass', frequencyHz: 40 },
    { type: 'highpass', frequencyHz: 9000 },
  ])('a first-order $type at $frequencyHz Hz by the same method', (told) => {
    const sections = build({ ...told, slopeDbPerOctave: 6 }, 'matched', 48000);
    expect(sections).toHaveLength(1);
    expect(sections[0]?.a1).toBeCloseTo(-Math.exp((-2 * Math.PI * told.frequencyHz) / 48000), 13);
    expect(magnitude(sections, 0)).toBeCloseTo(told.type === 'lowpass' ? 1 : 0, 10);
    expect(dbAt(sections, told.frequencyHz)).toBeCloseTo(10 * Math.log10(0.5), 9);
  });
});

describe('a bell of −18 dB, Q 5, at 19 kHz and 48 kHz, seen at 20 kHz', () => {
  // Values worked out once from each source's formulae, of unknown independence; −13.24 dB is the analogue bell's.
  it.each<[DesignName, number]>([
    ['analogue', -13.24],
    ['cookbook', -3.7],
    ['matched', -14.08],
    ['nyquist-gain', -12.95],
  ])('%s takes %f dB', (design, expected) => {
    const bell = build({ type: 'peaking', frequencyHz: 19000, q: 5, gainDb: -18 }, design, 48000);
    expect(Math.abs(dbAt(bell, 20000) - expected)).toBeLessThan(0.005);
  });
});
