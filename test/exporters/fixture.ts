import type { Intent } from '../../src/model/intent.js';
import type { Guard, KnobPosition, PlacedFilter, Recipe, RecipeMix } from '../../src/model/recipe.js';
import { cents, db, dbPerOctave, hz, octaves, q, step } from '../../src/units/quantity.js';

// Written by hand, every figure invented: a recipe that shows every trait an exporter meets.

const at = (index: number, of: number, display: string): KnobPosition => ({
  index: step(index),
  of,
  display,
  fromBottom: index,
  fromTop: of - 1 - index,
});

const frequencyError = (errorHz: number, errorCents: number) => ({
  frequencyHz: hz(errorHz),
  frequencyCents: cents(errorCents),
});

const lowCut: PlacedFilter = {
  slot: 'cut',
  role: 'low-cut',
  type: 'highpass',
  asked: { role: 'low-cut', type: 'highpass', frequencyHz: hz(40), slopeDbPerOctave: dbPerOctave(12) },
  set: { frequencyHz: hz(40), slopeDbPerOctave: dbPerOctave(18), family: 'butterworth' },
  steps: { frequency: at(20, 181, '40 Hz'), slope: at(1, 3, '18 dB/oct') },
  error: { ...frequencyError(0, 0), slopeDbPerOctave: dbPerOctave(6) },
};

const pilotCut: PlacedFilter = {
  slot: '3',
  role: 'pilot-cut',
  type: 'peaking',
  asked: { role: 'pilot-cut', type: 'peaking', frequencyHz: hz(19000), q: q(10), gainDb: db(-18) },
  set: { frequencyHz: hz(19320), q: q(12), gainDb: db(-15) },
  steps: { frequency: at(175, 177, '19.32 kHz'), q: at(57, 58, '12.0'), gain: at(0, 35, '-15.0 dB') },
  error: { ...frequencyError(320, 28.9), qRatio: 1.2, gainDb: db(3) },
};

const highCut: PlacedFilter = {
  slot: '4',
  role: 'high-cut',
  type: 'lowpass',
  asked: { role: 'high-cut', type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) },
  set: { frequencyHz: hz(14925), q: q(0.7) },
  steps: { frequency: at(167, 177, '14.92 kHz'), q: at(10, 58, '0.700') },
  error: { ...frequencyError(-75, -8.67), qRatio: 0.99 },
};

const shelf: PlacedFilter = {
  slot: '4',
  role: 'high-cut',
  type: 'highshelf',
  asked: { role: 'high-cut', type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) },
  set: { frequencyHz: hz(16000), q: q(0.33), gainDb: db(-12.5) },
  steps: {
    frequency: at(170, 177, '16.00 kHz'),
    q: at(0, 1, '0.330'),
    gain: at(5, 35, '-12.5 dB'),
  },
  error: frequencyError(1000, 111.7),
};

const userNotch: PlacedFilter = {
  slot: '2',
  role: 'stage-hum',
  type: 'notch',
  asked: { role: 'stage-hum', type: 'notch', frequencyHz: hz(100), bandwidthOctaves: octaves(0.5) },
  set: { frequencyHz: hz(99.997), bandwidthOctaves: octaves(0.5) },
  steps: { frequency: at(700_000, 2_000_000, '100.00 Hz'), bandwidth: at(1, 3, '0.500 oct') },
  error: { ...frequencyError(-0.003, -0.0519), qRatio: 1 },
};

const lowShelf: PlacedFilter = {
  slot: '3',
  role: 'warmth',
  type: 'lowshelf',
  asked: {
    role: 'warmth',
    type: 'lowshelf',
    frequencyHz: hz(120),
    shelfSlope: 1,
    gainDb: db(2),
  } satisfies Intent,
  set: { frequencyHz: hz(120), gainDb: db(2) },
  steps: { frequency: at(52, 177, '120 Hz'), gain: at(23, 35, '+2.0 dB') },
  error: { ...frequencyError(0, 0), gainDb: db(0) },
};

const range = (leastDb: number, mostDb: number) => ({ leastDb: db(leastDb), mostDb: db(mostDb) });

const figures = (
  attenuation: number,
  loss: number,
  rise: number,
  guardBand: number,
  overProgramme: ReturnType<typeof range>,
) => ({
  pilotAttenuationDb: db(attenuation),
  keepLossDb: db(loss),
  riseDb: db(rise),
  guardBandDb: db(guardBand),
  pilotToProgrammeDb: overProgramme,
});

const scope = {
  pilotHz: hz(19000),
  windowHz: hz(100),
  keepLowHz: hz(80),
  keepHighHz: hz(12000),
  preEmphasisMicroseconds: [50, 75],
  lineUpDbfs: [db(0), db(-12)],
  overDeviatingLineUpsDbfs: [db(-12)],
  programme: {
    kind: 'pink',
    levelDbfs: db(-18),
    lowHz: hz(20),
    highHz: hz(20000),
    image: 'identical',
  } as const,
  unfilteredPilotToProgrammeDb: range(-4.05, 10.94),
  limits: {
    pilotAttenuationAtLeastDb: db(19.094),
    keepLossAtMostDb: db(1),
    keepLossAsAskedDb: null,
    riseAtMostDb: db(0.1),
  },
};

const met: Guard = {
  ...scope,
  byRealisation: [
    { id: 'cookbook-48k', ...figures(24.31, 0.82, -0, 11.2, range(20.31, 35.3)) },
    { id: 'cookbook-96k', ...figures(21.44, 0.9, 0.02, 9.7, range(17.43, 32.42)) },
    { id: 'matched-48k', ...figures(22.18, 0.71, 0.01, 10.1, range(18.2, 33.19)) },
  ],
  worst: figures(21.44, 0.9, 0.02, 9.7, range(17.43, 32.42)),
  verdict: 'met',
};

const short: Guard = {
  ...scope,
  byRealisation: [{ id: 'cookbook-48k', ...figures(19.07, 1.62, 0, 6.4, range(14.9, 14.9)) }],
  worst: figures(19.07, 1.62, 0, 6.4, range(14.9, 14.9)),
  verdict: 'falls-short',
};

const protect = (
  name: string,
  outputs: readonly number[],
  filters: readonly PlacedFilter[],
  guard: Guard,
): RecipeMix => ({
  name,
  outputs,
  system: 'packs-a',
  link: 'fm-stereo',
  treatment: 'protect',
  reason: 'An FM stereo link has a pilot to guard.',
  filters,
  guard,
  nearest: null,
  alternative: null,
  missing: [],
});

const leaveAlone = (
  name: string,
  outputs: readonly number[],
  system: string,
  link: 'digital' | 'wired',
): RecipeMix => ({
  name,
  outputs,
  system,
  link,
  treatment: 'leave-alone',
  reason: `A ${link} link has no pilot: nothing to guard.`,
  filters: [],
  guard: null,
  nearest: null,
  alternative: null,
  missing: [],
});

export const recipe: Recipe = {
  format: 'bandwright-recipe/1',
  rig: { title: 'Harbour hall, late show' },
  target: {
    id: 'four-bells',
    title: 'Invented desk: four bells and a cut section',
    stereo: 'legs-separate',
    evidence: { grid: 'untested', response: 'tested', push: 'known-bad' },
  },
  fit: 'nearest',
  assumptions: [
    { code: 'pilot-assumed', path: 'systems.packs-a.pilotHz', message: 'Not given: 19 kHz is taken.' },
  ],
  mixes: [
    protect('Singer', [3, 4], [lowCut, pilotCut, highCut], met),
    protect('Drums, "sub"', [5], [lowCut, shelf], short),
    leaveAlone('=1+2', [7, 8], 'packs-d', 'digital'),
    leaveAlone('鼓手 Zoë 👩‍🎤', [9], 'cable', 'wired'),
    protect('Guitar', [1, 2], [lowCut, pilotCut, highCut], met),
    {
      name: '-Talkback',
      outputs: [11],
      system: null,
      link: null,
      treatment: 'as-asked',
      reason: 'Filters as the intents file asks.',
      filters: [userNotch, lowShelf],
      guard: null,
      nearest: null,
      alternative: null,
      missing: [],
    },
  ],
  problems: [
    {
      code: 'substitute',
      path: 'mixes[1].filters[1]',
      message:
        'Slot 4 has no high cut while it is linked; a high shelf at 16 kHz, -12.5 dB stands in for the high cut at 15 kHz, 12 dB/oct. It takes less above 16 kHz. Free a slot that has a high cut.',
      source: 'rig.json',
      line: 12,
      column: 7,
    },
  ],
};
