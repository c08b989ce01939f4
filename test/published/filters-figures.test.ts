import { describe, expect, it } from 'vitest';
import { build, dbAt } from '../filters/measure.js';

/** Butterworth's own formula: |H|² = 1 / (1 + (f/fc)^2N) for a high cut, fc/f for a low cut. */
const butterworthDb = (ratio: number, order: number) => -10 * Math.log10(1 + ratio ** (2 * order));

describe('Butterworth and Linkwitz-Riley cuts as analogue filters (Butterworth 1930, Linkwitz 1976)', () => {
  const slopes = [6, 12, 18, 24, 30, 36, 42, 48];

  it.each(slopes)('%d dB per octave follows 1 / (1 + (f/fc)^2N)', (slopeDbPerOctave) => {
    const order = slopeDbPerOctave / 6;
    const high = build({ type: 'lowpass', frequencyHz: 15000, slopeDbPerOctave }, 'analogue', null);
    const low = build({ type: 'highpass', frequencyHz: 40, slopeDbPerOctave }, 'analogue', null);
    for (const ratio of [0.2, 0.5, 0.9, 1, 1.1, 1.2666, 2, 4]) {
      expect(dbAt(high, 15000 * ratio)).toBeCloseTo(butterworthDb(ratio, order), 9);
      expect(dbAt(low, 40 / ratio)).toBeCloseTo(butterworthDb(ratio, order), 9);
    }
  });

  it.each(['analogue', 'cookbook', 'matched', 'nyquist-gain'] as const)(
    '%s: −3.0103 dB at the cut of every Butterworth, −6.0206 dB of every Linkwitz-Riley',
    (design) => {
      for (const [type, frequencyHz] of [
        ['lowpass', 15000],
        ['highpass', 40],
      ] as const) {
        for (const slopeDbPerOctave of slopes) {
          const cut = build({ type, frequencyHz, slopeDbPerOctave }, design, 48000);
          expect(dbAt(cut, frequencyHz)).toBeCloseTo(-3.0103, 4);
        }
        for (const slopeDbPerOctave of [12, 24, 36, 48]) {
          const told = { type, frequencyHz, slopeDbPerOctave, family: 'linkwitz-riley' };
          expect(dbAt(build(told, design, 48000), frequencyHz)).toBeCloseTo(-6.0206, 4);
        }
      }
    },
  );

  // Worked out from |H|² = 1 / (1 + (f/fc)^2N); bilinear ones with tan(πf/fs) / tan(πfc/fs) for f/fc.
  it.each([
    { slope: 6, design: 'analogue', rate: null, at19kHz: -4.16 },
    { slope: 12, design: 'analogue', rate: null, at19kHz: -5.53 },
    { slope: 18, design: 'analogue', rate: null, at19kHz: -7.1 },
    { slope: 24, design: 'analogue', rate: null, at19kHz: -8.82 },
    { slope: 36, design: 'analogue', rate: null, at19kHz: -12.57 },
    { slope: 48, design: 'analogue', rate: null, at19kHz: -16.52 },
    { slope: 12, design: 'cookbook', rate: 44100, at19kHz: -15.94 },
    { slope: 12, design: 'cookbook', rate: 48000, at19kHz: -12.04 },
    { slope: 12, design: 'cookbook', rate: 96000, at19kHz: -6.26 },
    { slope: 24, design: 'cookbook', rate: 44100, at19kHz: -31.67 },
    { slope: 24, design: 'cookbook', rate: 48000, at19kHz: -23.55 },
    { slope: 24, design: 'cookbook', rate: 96000, at19kHz: -10.58 },
    { slope: 12, design: 'matched', rate: 48000, at19kHz: -5.14 },
  ] as const)(
    '15 kHz, $slope dB per octave, $design at $rate: $at19kHz dB at 19 kHz',
    ({ slope, design, rate, at19kHz }) => {
      const cut = build({ type: 'lowpass', frequencyHz: 15000, slopeDbPerOctave: slope }, design, rate);
      expect(Math.abs(dbAt(cut, 19000) - at19kHz)).toBeLessThan(0.0051);
    },
  );

  it.each([
    {
      cutHz: 40,
      slope: 12,
      losses: [
        [20, -12.3],
        [30, -6.19],
        [50, -1.49],
        [80, -0.26],
      ],
    },
    {
      cutHz: 40,
      slope: 24,
      losses: [
        [20, -24.1],
        [30, -10.41],
        [50, -0.67],
      ],
    },
    {
      cutHz: 35,
      slope: 12,
      losses: [
        [40, -2.0],
        [50, -0.93],
      ],
    },
    {
      cutHz: 35,
      slope: 24,
      losses: [
        [40, -1.28],
        [50, -0.24],
      ],
    },
  ])('low cut at $cutHz Hz, $slope dB per octave', ({ cutHz, slope, losses }) => {
    const cut = build({ type: 'highpass', frequencyHz: cutHz, slopeDbPerOctave: slope }, 'analogue', null);
    for (const [frequencyHz, lossDb] of losses as [number, number][]) {
      expect(Math.abs(dbAt(cut, frequencyHz) - lossDb)).toBeLessThan(0.0051);
    }
  });
});

describe('a notch at 19 kHz', () => {
  const at = [15000, 18000, 18800, 18900, 18980, 19020, 19100, 20000];
  // Worked out from |H|² = u / (u + 1/Q²), u = (f/f0 − f0/f)²; bilinear ones with tan(πf/fs) for f.
  it.each([
    { q: 5, rate: null, losses: [-0.7, -6.45, -19.6, -25.6, -39.6, -39.6, -25.6, -6.81] },
    { q: 10, rate: null, losses: [-0.19, -2.68, -13.7, -19.6, -33.5, -33.5, -19.6, -2.9] },
    { q: 30, rate: null, losses: [-0.02, -0.39, -5.42, -10.4, -24.0, -24.0, -10.4, -0.44] },
    { q: 5, rate: 48000, losses: [-0.08, -0.97, -8.19, -13.6, null, -27.3, -13.5, -0.7] },
    { q: 10, rate: 48000, losses: [-0.02, -0.26, -3.8, -8.13, null, -21.3, -8.0, -0.19] },
    { q: 30, rate: 48000, losses: [-0.0, -0.03, -0.63, -2.07, null, -12.0, -2.02, -0.02] },
    { q: 10, rate: 96000, losses: [-0.12, -1.79, -11.5, -17.3, null, -31.2, -17.3, -1.86] },
  ])('Q $q at $rate', ({ q, rate, losses }) => {
    const notch = build(
      { type: 'notch', frequencyHz: 19000, q },
      rate === null ? 'analogue' : 'cookbook',
      rate,
    );
    losses.forEach((lossDb, i) => {
      if (lossDb === null) return;
      // The table has three significant digits.
      const bound = Math.abs(lossDb) >= 10 ? 0.051 : 0.0051;
      expect(Math.abs(dbAt(notch, at[i] as number) - lossDb)).toBeLessThan(bound);
    });
  });
});

describe('a bell at 18.66 kHz, point 174 of 26 Hz · (21700/26)^(k/178), −15 dB, bilinear at 48 kHz', () => {
  const frequencyHz = 26 * (21_700 / 26) ** (174 / 178);

  /** The analogue bell at the frequency tan(πf/fs) / tan(πf0/fs): the bilinear transform, in one line. */
  const bilinearBellDb = (q: number, f: number) => {
    const A = 10 ** (-15 / 40);
    const x = Math.tan((Math.PI * f) / 48000) / Math.tan((Math.PI * frequencyHz) / 48000);
    const u = (x - 1 / x) ** 2;
    return 10 * Math.log10((u + (A / q) ** 2) / (u + (1 / (A * q)) ** 2));
  };

  it.each([
    { q: 10, takesDb: 5.33 },
    { q: 3, takesDb: 12.02 },
  ])('Q $q takes about $takesDb dB out at 19 kHz', ({ q, takesDb }) => {
    expect(frequencyHz).toBeCloseTo(18656, 0);
    const bell = build({ type: 'peaking', frequencyHz, q, gainDb: -15 }, 'cookbook', 48000);
    expect(dbAt(bell, 19000)).toBeCloseTo(bilinearBellDb(q, 19000), 9);
    expect(Math.abs(dbAt(bell, 19000) + takesDb)).toBeLessThan(0.005);
    expect(dbAt(bell, frequencyHz)).toBeCloseTo(-15, 9);
  });
});
