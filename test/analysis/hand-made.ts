import type { ServedDesk, UnfitDesk } from '../../src/analysis/compare/compared-desk.js';
import type { Guard, MissingFilter, PlacedFilter, Recipe, RecipeMix } from '../../src/model/recipe.js';
import type { Evidence, Target } from '../../src/model/target.js';
import { cents, db, hz, step } from '../../src/units/quantity.js';

const untested: Evidence = { grid: 'untested', response: 'untested', push: 'untested' };

/** A bell whose knobs stand at some steps, each of so many; a knob of one step does not move. */
export const bell = (slot: string, steps: PlacedFilter['steps']): PlacedFilter => {
  const frequencyHz = hz(19000);
  return {
    slot,
    role: 'pilot-cut',
    type: 'peaking',
    asked: { role: 'pilot-cut', type: 'peaking', frequencyHz },
    set: { frequencyHz },
    steps,
    error: { frequencyHz: hz(0), frequencyCents: cents(0) },
  };
};

export const knob = (index: number, of: number) => ({
  index: step(index),
  of,
  display: `${index}`,
  fromBottom: index,
  fromTop: of - 1 - index,
});

export interface Figures {
  readonly pilotDb: number;
  readonly askedDb?: number;
  readonly lossDb?: number;
  readonly lossAtMostDb?: number;
}

const guardOf = ({ pilotDb, askedDb = 15, lossDb = 1, lossAtMostDb = 3 }: Figures): Guard => {
  const worst = {
    pilotAttenuationDb: db(pilotDb),
    keepLossDb: db(lossDb),
    riseDb: db(0),
    guardBandDb: db(10),
    pilotToProgrammeDb: null,
  };
  return {
    pilotHz: hz(19000),
    windowHz: hz(100),
    keepLowHz: hz(80),
    keepHighHz: hz(12000),
    preEmphasisMicroseconds: [50],
    lineUpDbfs: [db(-6)],
    overDeviatingLineUpsDbfs: [],
    programme: { kind: 'pink', levelDbfs: db(-18), lowHz: hz(20), highHz: hz(20000), image: 'identical' },
    unfilteredPilotToProgrammeDb: null,
    limits: {
      pilotAttenuationAtLeastDb: db(askedDb),
      keepLossAtMostDb: db(lossAtMostDb),
      keepLossAsAskedDb: null,
      riseAtMostDb: db(0.1),
    },
    byRealisation: [{ id: 'one', ...worst }],
    worst,
    verdict: pilotDb >= askedDb && lossDb <= lossAtMostDb ? 'met' : 'falls-short',
  };
};

export const mixOf = (
  figures: Figures | null,
  filters: readonly PlacedFilter[] = [],
  missing: readonly MissingFilter[] = [],
  outputs: readonly number[] = [1, 2],
): RecipeMix => ({
  name: 'Wren',
  outputs,
  system: 'packs',
  link: figures ? 'fm-stereo' : 'wired',
  treatment: figures ? 'protect' : 'leave-alone',
  reason: 'a test',
  filters,
  guard: figures && guardOf(figures),
  nearest: null,
  alternative: null,
  missing,
});

/** One mix's recipe, standing for so many. */
export const part = (
  mix: RecipeMix,
  mixCount = 1,
  more: Partial<Pick<Recipe, 'problems' | 'assumptions'>> & {
    readonly stereo?: Recipe['target']['stereo'];
  } = {},
): { readonly recipe: Recipe; readonly mixCount: number } => ({
  mixCount,
  recipe: {
    format: 'bandwright-recipe/1',
    rig: { title: 'A show for tests' },
    target: { id: 'a', title: 'A', stereo: more.stereo ?? 'legs-share', evidence: untested },
    fit: 'protect',
    assumptions: more.assumptions ?? [],
    mixes: [mix],
    problems: more.problems ?? [],
  },
});

/** A desk with so many ways of building its filters. */
export const targetWith = (ways: number): Target => ({
  format: 'bandwright-target/1',
  id: 'a',
  title: 'A desk for tests',
  provenance: 'invented',
  outputs: { count: 8, stereo: 'legs-share' },
  quantisers: {},
  slots: [],
  realisations: Array.from({ length: ways }, (_, index) => ({
    id: `way-${index}`,
    design: 'cookbook',
    qMeaning: 'cookbook',
    sampleRateHz: hz(48000),
  })),
  display: {},
  evidence: untested,
});

/** A desk that meets its guard with 20 dB at the pilot for 1 dB of music, changed where a test needs it. */
export const served = (id: string, change: Partial<ServedDesk> = {}): ServedDesk => ({
  name: id,
  id,
  title: `Desk ${id}`,
  fits: true,
  verdict: 'met',
  guardedMixCount: 2,
  pilot: { attenuationDb: db(20), askedDb: db(15.6) },
  keepLossDb: db(1),
  short: { pilotDb: 0, lossDb: 0, riseDb: 0 },
  dials: { knobs: 5, settings: 1, legsApart: false },
  missing: [],
  otherwiseCount: 0,
  wayCount: 5,
  evidence: untested,
  notProved: null,
  ...change,
});

/** A desk that falls short by so much at the pilot. */
export const short = (id: string, pilotDb: number, change: Partial<ServedDesk> = {}): ServedDesk =>
  served(id, {
    verdict: 'falls-short',
    pilot: { attenuationDb: db(15.6 - pilotDb), askedDb: db(15.6) },
    short: { pilotDb, lossDb: 0, riseDb: 0 },
    ...change,
  });

export const unfit = (id: string, change: Partial<UnfitDesk> = {}): UnfitDesk => ({
  name: id,
  id,
  title: `Desk ${id}`,
  fits: false,
  outputs: { count: 8, highestUsed: 47 },
  slotsUnknown: [],
  problems: [],
  ...change,
});

export const noLowCut = { role: 'low-cut', type: 'highpass', why: 'no-place', mixCount: 2 } as const;
