import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import {
  type PilotSituation,
  pilotToProgrammeDb,
  pilotToProgrammeRange,
} from '../../src/guard/pilot-to-programme.js';
import { pinkShare } from '../../src/guard/pink-share.js';
import { type ToneProgramme, usualProgramme } from '../../src/guard/programme.js';
import { db, hz, q } from '../../src/units/quantity.js';

const usual: PilotSituation = {
  pilotHz: hz(19000),
  windowHz: hz(100),
  preEmphasisMicroseconds: 50,
  lineUpDbfs: db(0),
  programme: usualProgramme,
};
const tone = (change: Partial<ToneProgramme> = {}): ToneProgramme => ({
  kind: 'tone',
  levelDbfs: db(-20),
  frequencyHz: hz(19000),
  image: 'identical',
  ...change,
});
const desk = { id: '48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) } as const;

describe('a steady tone', () => {
  // In mono: 20 log10(0.09 / 0.9) − level + line-up + 0.409 − 15.638 (pre-emphasis of 50 µs at 1 and 19 kHz).
  it.each([
    { what: 'in mono', programme: tone(), lineUpDbfs: 0, expectedDb: -20 + 20 + 0.409 - 15.638 },
    { what: 'lined up 12 dB hotter', programme: tone(), lineUpDbfs: -12, expectedDb: -15.229 - 12 },
    // 10 log10(16/5) = 5.051 dB less arrives.
    {
      what: 'in left only',
      programme: tone({ image: 'left-only' }),
      lineUpDbfs: 0,
      expectedDb: -15.229 + 5.051,
    },
    {
      what: 'in right only',
      programme: tone({ image: 'right-only' }),
      lineUpDbfs: 0,
      expectedDb: -15.229 + 5.051,
    },
    { what: '10 dB lower', programme: tone({ levelDbfs: db(-30) }), lineUpDbfs: 0, expectedDb: -5.229 },
  ])('$what', ({ programme, lineUpDbfs, expectedDb }) => {
    expect(pilotToProgrammeDb([], { ...usual, programme, lineUpDbfs: db(lineUpDbfs) })).toBeCloseTo(
      expectedDb,
      2,
    );
  });

  it('counts where it falls into the window, the edge included, and not beyond', () => {
    const at = (frequencyHz: number) =>
      pilotToProgrammeDb([], { ...usual, programme: tone({ frequencyHz: hz(frequencyHz) }) });
    expect(at(19100)).toBeCloseTo(-15.27, 1);
    expect(at(19100.01)).toBe(Infinity);
    expect(at(1000)).toBe(Infinity);
  });

  it('meets what the chain takes at its own frequency', () => {
    const bell = buildChain([{ type: 'peaking', frequencyHz: hz(19050), q: q(5), gainDb: db(-18) }], desk);
    const programme = tone({ frequencyHz: hz(19050) });
    const without = pilotToProgrammeDb([], { ...usual, programme });
    // A bell's gain at its centre is its gain in dB (W3C Audio EQ Cookbook).
    expect(pilotToProgrammeDb(bell, { ...usual, programme }) - without).toBeCloseTo(18, 9);
  });

  it('does not come out of a desk above half its sample rate', () => {
    const slow = buildChain([{ type: 'lowpass', frequencyHz: hz(15000), q: q(0.7) }], {
      ...desk,
      sampleRateHz: hz(32000),
    });
    expect(pilotToProgrammeDb(slow, { ...usual, programme: tone() })).toBe(Infinity);
    expect(pilotToProgrammeDb(slow, usual)).toBe(Infinity);
  });
});

describe('pink noise', () => {
  const share = (fromHz: number, toHz: number, microseconds: number) =>
    pinkShare(usualProgramme, { fromHz, toHz }, [], microseconds);
  const percent = (fromHz: number, toHz: number, microseconds: number) =>
    (100 * share(fromHz, toHz, microseconds)) / share(20, 20000, microseconds);

  // ∫ (1 + (2πfτ)²) df/f = ln(b/a) + (2πτ)² (b² − a²)/2 of a band over that of 20 Hz to 20 kHz; by hand.
  it.each([
    { fromHz: 15000, toHz: 20000, microseconds: 0, expected: 4.2 },
    { fromHz: 15000, toHz: 20000, microseconds: 50, expected: 33.5 },
    { fromHz: 15000, toHz: 20000, microseconds: 75, expected: 38.4 },
    { fromHz: 17000, toHz: 20000, microseconds: 0, expected: 2.4 },
    { fromHz: 17000, toHz: 20000, microseconds: 50, expected: 21.2 },
    { fromHz: 17000, toHz: 20000, microseconds: 75, expected: 24.3 },
  ])(
    '$fromHz to $toHz Hz after $microseconds µs: $expected %',
    ({ fromHz, toHz, microseconds, expected }) => {
      expect(Math.abs(percent(fromHz, toHz, microseconds) - expected)).toBeLessThan(0.05);
    },
  );

  it.each([
    { aroundHz: 100, microseconds: 0, expectedDb: -28.2 },
    { aroundHz: 100, microseconds: 50, expectedDb: -18.4 },
    { aroundHz: 100, microseconds: 75, expectedDb: -17.8 },
    { aroundHz: 30, microseconds: 0, expectedDb: -33.4 },
    { aroundHz: 30, microseconds: 50, expectedDb: -23.6 },
    { aroundHz: 30, microseconds: 75, expectedDb: -23.0 },
  ])(
    '19 kHz ± $aroundHz Hz after $microseconds µs: $expectedDb dB',
    ({ aroundHz, microseconds, expectedDb }) => {
      const found = 10 * Math.log10(percent(19000 - aroundHz, 19000 + aroundHz, microseconds) / 100);
      expect(Math.abs(found - expectedDb)).toBeLessThan(0.05);
    },
  );

  // (ln 1000 + (2π · 20000 · 50e-6)² / 2) / ln 1000 = 26.647 / 6.9078; by hand.
  it('is raised 5.86 dB by 50 µs', () => {
    expect(10 * Math.log10(share(20, 20000, 50))).toBeCloseTo(5.863, 3);
  });

  it('is integrated to nine digits', () => {
    const exact = Math.log(19100 / 18900) + ((2 * Math.PI * 50e-6) ** 2 * (19100 ** 2 - 18900 ** 2)) / 2;
    expect((share(18900, 19100, 50) * Math.log(1000)) / exact).toBeCloseTo(1, 9);
  });

  it('has nothing outside its own limits', () => {
    expect(pinkShare(usualProgramme, { fromHz: 1, toHz: 1e6 }, [], 0)).toBeCloseTo(1, 9);
    expect(pinkShare(usualProgramme, { fromHz: 20001, toHz: 23000 }, [], 0)).toBe(0);
  });
});

describe('range over what a rig does not tell', () => {
  const at = (microseconds: number, lineUpDbfs: number) =>
    pilotToProgrammeDb([], { ...usual, preEmphasisMicroseconds: microseconds, lineUpDbfs: db(lineUpDbfs) });

  it('spans the usual line-ups and pre-emphases', () => {
    const range = pilotToProgrammeRange([], guardScope(hz(19000)));
    expect(range).toEqual({ leastDb: at(75, -12), mostDb: at(50, 0) });
    // 12 dB of line-up, and what 75 µs lift 19 kHz over 1 kHz more than 50 µs: 3.456 − 0.462 dB.
    expect(at(50, 0) - at(75, -12)).toBeCloseTo(12 + 2.994, 2);
  });

  it('is one figure where both are told', () => {
    const scope = guardScope(hz(19000), { preEmphasisMicroseconds: 50, lineUpDbfs: db(-6) });
    expect(pilotToProgrammeRange([], scope)).toEqual({ leastDb: at(50, -6), mostDb: at(50, -6) });
  });

  it('is null where nothing of the programme falls into the window', () => {
    expect(pilotToProgrammeRange([], guardScope(hz(21000)))).toBeNull();
    expect(pilotToProgrammeRange([], guardScope(hz(19000)), { ...tone(), frequencyHz: hz(1000) })).toBeNull();
  });
});
