import { describe, expect, it } from 'vitest';
import { nearest } from '../../src/fitting/nearest/nearest.js';
import type { Intent } from '../../src/model/intent.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Slot, SlotType, Target } from '../../src/model/target.js';
import { db, dbPerOctave, hz, q } from '../../src/units/quantity.js';

const bell = { frequency: 'log', q: 'q', gain: 'gain' };
const cut = { frequency: 'log', slope: 12 };

const deskOf = (slots: readonly Slot[]) => {
  const target: Target = {
    format: 'bandwright-target/1',
    id: 'test-desk',
    title: 'A desk for tests',
    provenance: 'invented',
    outputs: { count: 8, stereo: 'legs-share' },
    quantisers: {
      log: { kind: 'geometric', from: 26, to: 21700, count: 179 },
      q: { kind: 'geometric', from: 0.33, to: 10.6, count: 58 },
      gain: { kind: 'linear', from: -15, to: 15, step: 0.5 },
    },
    slots,
    realisations: [{ id: 'cookbook-48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: hz(48000) }],
    display: { frequency: { significantDigits: 4, kiloFromHz: hz(1000) } },
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  };
  const desk = makeDesk(target);
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

const lowCut: Intent = {
  role: 'low-cut',
  type: 'highpass',
  frequencyHz: hz(35),
  slopeDbPerOctave: dbPerOctave(12),
};
const pilotCut: Intent = {
  role: 'pilot-cut',
  type: 'peaking',
  frequencyHz: hz(19000),
  q: q(10),
  gainDb: db(-15),
};
const highCut: Intent = {
  role: 'high-cut',
  type: 'lowpass',
  frequencyHz: hz(15000),
  slopeDbPerOctave: dbPerOctave(12),
};

const fitOn = (slots: readonly Slot[], intents: readonly Intent[] = [lowCut, pilotCut, highCut]) => {
  const desk = deskOf(slots);
  return nearest.fit(intents, { desk, slots: desk.slots, guard: null, spareSlots: 0 });
};

const pointHz = (point: number): number => 26 * (21_700 / 26) ** (point / 178);

describe('nearest steps on 179 logarithmic points from 26 Hz to 21.7 kHz', () => {
  const all = { peaking: bell, highpass: cut, lowpass: cut };
  const { filters } = fitOn([
    { id: 'a', types: all },
    { id: 'b', types: all },
    { id: 'c', types: all },
  ]);

  // 26·(21700/26)^(k/178), by hand: k = 7 33.87, 8 35.18; 168 14.87, 169 15.44; 174 18.66, 175 19.37 kHz.
  it.each([
    { role: 'low-cut', index: 8, display: '35.18 Hz', cents: 1200 * Math.log2(pointHz(8) / 35) },
    { role: 'high-cut', index: 168, display: '14.87 kHz', cents: 1200 * Math.log2(pointHz(168) / 15000) },
    { role: 'pilot-cut', index: 174, display: '18.66 kHz', cents: 1200 * Math.log2(pointHz(174) / 19000) },
  ])('$role: step $index, shown as $display', ({ role, index, display, cents }) => {
    const placed = filters.find((each) => each.role === role);
    expect(placed?.steps.frequency).toEqual({
      index,
      of: 179,
      display,
      fromBottom: index,
      fromTop: 178 - index,
    });
    expect(placed?.error.frequencyCents).toBeCloseTo(cents, 6);
  });

  it('tells the error of the Q as a ratio and of the gain in dB', () => {
    const { error, set } = filters.find(({ role }) => role === 'pilot-cut') ?? {};
    // Q steps are (10.6/0.33)^(1/57) = 1.0628 apart: the nearest to 10 is within half of that, and gain -15 is on the grid.
    expect(error?.gainDb).toBe(0);
    expect(Math.abs(Math.log(error?.qRatio ?? 0))).toBeLessThan(Math.log(10.6 / 0.33) / 57 / 2 + 1e-9);
    expect(set?.gainDb).toBe(-15);
  });

  it('puts lower frequencies on earlier slots', () => {
    expect(filters.map(({ slot, role }) => `${slot} ${role}`)).toEqual([
      'a low-cut',
      'b high-cut',
      'c pilot-cut',
    ]);
  });
});

describe('giving out slots', () => {
  it.each([
    {
      name: 'first come first served would leave the high cut without its only slot',
      slots: [
        { id: 'any', types: { peaking: bell, highpass: cut, lowpass: cut } },
        { id: 'bell', types: { peaking: bell } },
        { id: 'low', types: { highpass: cut } },
      ],
      expected: ['any high-cut', 'bell pilot-cut', 'low low-cut'],
    },
    {
      name: 'a slot made for the job is taken before one that could do more',
      slots: [
        { id: 'any', types: { peaking: bell, highpass: cut, lowpass: cut } },
        { id: 'cut', types: { lowpass: cut } },
        { id: 'bell', types: { peaking: bell } },
        { id: 'low', types: { highpass: cut } },
      ],
      expected: ['cut high-cut', 'bell pilot-cut', 'low low-cut'],
    },
    {
      name: 'with too few slots the pilot cut and the high cut come before the low cut',
      slots: [
        { id: 'any', types: { peaking: bell, highpass: cut, lowpass: cut } },
        { id: 'other', types: { peaking: bell, highpass: cut, lowpass: cut } },
      ],
      expected: ['any high-cut', 'other pilot-cut'],
    },
    {
      name: 'of fixed bells the one nearest to the pilot is taken',
      slots: [
        { id: 'f16k', types: { peaking: { frequency: 16000, q: 4.3, gain: 'gain' } } },
        { id: 'f20k', types: { peaking: { frequency: 20000, q: 4.3, gain: 'gain' } } },
      ],
      expected: ['f20k pilot-cut'],
    },
  ] as { name: string; slots: Slot[]; expected: string[] }[])('$name', ({ slots, expected }) => {
    expect(fitOn(slots).filters.map(({ slot, role }) => `${slot} ${role}`)).toEqual(expected);
  });
});

describe('what cannot be done as asked', () => {
  it('leaves out what has no place and says so', () => {
    const { shortcomings } = fitOn([{ id: 'bell', types: { peaking: bell } }]);
    expect(shortcomings.map(({ kind, intent }) => `${kind} ${intent.role}`).sort()).toEqual([
      'no-place high-cut',
      'no-place low-cut',
    ]);
  });

  it('lets a high shelf be the substitute for a high cut, no farther than a quarter of an octave beyond it', () => {
    const { filters, shortcomings } = fitOn(
      [{ id: 's', types: { highshelf: { frequency: 'log', gain: 'gain' } } }],
      [{ ...highCut, frequencyHz: hz(5000) }],
    );
    const [placed] = filters;
    expect(shortcomings.map(({ kind }) => kind)).toEqual(['substitute']);
    expect(placed?.type).toBe('highshelf');
    expect(placed?.set.gainDb).toBe(-15);
    // The cookbook's analogue high shelf of -15 dB and S 1 takes 3.0103 dB at 1/1.51498 of its midpoint (SciPy's
    // brentq on the complex prototype), which is farther than 2^(1/4); a step of this grid is 3.9 %, so the nearest
    // to that lies within 2 %.
    expect(Math.abs((placed?.set.frequencyHz ?? 0) / 5000 / 2 ** 0.25 - 1)).toBeLessThan(0.02);
  });

  it('lets a bell be the substitute for a notch, as deep as it goes', () => {
    const { gainDb: _, ...rest } = pilotCut;
    const { filters, shortcomings } = fitOn(
      [{ id: 'b', types: { peaking: bell } }],
      [{ ...rest, type: 'notch' }],
    );
    expect(filters.map(({ type, set }) => [type, set.gainDb])).toEqual([['peaking', -15]]);
    expect(shortcomings.map(({ kind }) => kind)).toEqual(['substitute']);
  });

  it('tells a knob that ends before what was asked', () => {
    const { shortcomings } = fitOn(
      [{ id: 'b', types: { peaking: { frequency: 18000, q: 'q', gain: -6 } } }],
      [pilotCut],
    );
    expect(shortcomings).toMatchObject([{ kind: 'beyond-range', knobs: ['frequency', 'gain'] }]);
  });

  it.each([
    { name: 'a cut of another family', slot: { frequency: 'log', slope: 24 }, told: ['other-shape'] },
    {
      name: 'a single section for a steep slope',
      slot: { frequency: 'log', q: 0.5 },
      told: ['other-shape'],
    },
    {
      name: 'the very family asked for',
      slot: { frequency: 'log', slope: 24, family: 'linkwitz-riley' },
      told: [],
    },
  ] as { name: string; slot: SlotType; told: string[] }[])('tells $name', ({ slot, told }) => {
    const asked: Intent = { ...lowCut, slopeDbPerOctave: dbPerOctave(24), family: 'linkwitz-riley' };
    const { shortcomings } = fitOn([{ id: 'c', types: { highpass: slot } }], [asked]);
    expect(shortcomings.map(({ kind }) => kind)).toEqual(told);
  });
});
