import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { nearest } from '../../src/fitting/nearest/nearest.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import type { Target } from '../../src/model/target.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { db, hz, q } from '../../src/units/quantity.js';

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
      lineUpDbfs: db(-9),
    },
    unsaid: { link: 'fm-stereo', audioLowHz: hz(40), audioHighHz: hz(15000) },
    cable: { link: 'wired' },
    radio: { link: 'digital' },
  },
  mixes: [
    { name: 'Voice', outputs: [1, 2], feeds: 'packs', freeSlots: ['2', '3', '4'] },
    { name: 'Guitar', outputs: [3], feeds: 'unsaid' },
    { name: 'Drums', outputs: [5, 6], feeds: 'cable' },
    { name: 'Keys', outputs: [7, 8], feeds: 'radio' },
  ],
};

const recipeOf = (of: Rig = rig, id = 'log-179'): Recipe => {
  const desk = makeDesk(targetNamed(id));
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  const recipe = makeRecipe(of, desk.value, { fit: nearest, spareSlots: 0 });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  return recipe.value;
};

describe('a recipe', () => {
  const recipe = recipeOf();

  it('protects what feeds an FM stereo link and leaves the rest alone, with the reason', () => {
    expect(recipe.mixes.map(({ name, treatment }) => `${name}: ${treatment}`)).toEqual([
      'Voice: protect',
      'Guitar: protect',
      'Drums: leave-alone',
      'Keys: leave-alone',
    ]);
    expect(recipe.mixes[2]).toMatchObject({
      filters: [],
      guard: null,
      reason: expect.stringContaining('wired'),
    });
    expect(recipe.mixes[3]).toMatchObject({
      filters: [],
      guard: null,
      reason: expect.stringContaining('digital'),
    });
  });

  it("never takes a slot of the engineer's own", () => {
    expect(recipe.mixes[0]?.filters.map(({ slot }) => slot)).toEqual(['2', '3', '4']);
    expect(recipe.mixes[1]?.filters.map(({ slot }) => slot)).toEqual(['1', '2', '3']);
  });

  it('says what it took for granted', () => {
    expect(recipe.assumptions.map(({ code, path }) => [code, path])).toEqual(
      expect.arrayContaining([
        ['pilot-assumed', 'systems.unsaid.pilotHz'],
        ['pre-emphasis-unknown', 'systems.unsaid.preEmphasisMicroseconds'],
        ['line-up-unknown', 'systems.unsaid.lineUpDbfs'],
        ['programme-assumed', ''],
        ['slots-assumed-free', 'mixes'],
        ['target-unproved', 'target.evidence'],
      ]),
    );
    expect(recipe.assumptions.map(({ path }) => path)).not.toEqual(
      expect.arrayContaining([expect.stringMatching(/^systems\.packs\.(pilotHz|preEmphasisMicroseconds)$/)]),
    );
  });

  it('judges by what pre-emphasis adds at the pilot, by the worst usual one where it is not known', () => {
    // 10 log10(1 + (2π·19000·τ)²) for τ = 50 and 75 µs (ITU-R BS.450), by hand.
    expect(recipe.mixes[0]?.guard?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(15.638, 3);
    expect(recipe.mixes[1]?.guard?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(19.094, 3);
    expect(recipe.mixes[1]?.guard?.preEmphasisMicroseconds).toEqual([50, 75]);
  });

  it('takes the line-up a system states, and the usual ones where none is stated', () => {
    expect(recipe.mixes.map(({ guard }) => guard?.lineUpDbfs)).toEqual([
      [-9],
      [0, -6, -12],
      undefined,
      undefined,
    ]);
    const { leastDb, mostDb } = recipe.mixes[0]?.guard?.worst.pilotToProgrammeDb ?? {};
    expect(leastDb).toBe(mostDb);
  });

  it('judges by what is asked for beside the rig before what the rig asks for', () => {
    const desk = makeDesk(targetNamed('log-179'));
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const asking: Rig = { ...rig, guard: { windowHz: hz(200), pilotAttenuationAtLeastDb: db(12) } };
    const guard = { windowHz: hz(50), keepHighHz: hz(10000), keepLossAtMostDb: db(3) };
    const made = makeRecipe(asking, desk.value, { fit: nearest, spareSlots: 0, guard });
    if (!made.ok) throw new Error(JSON.stringify(made.error));
    expect(made.value.mixes[0]?.guard).toMatchObject({
      windowHz: 50,
      keepHighHz: 10000,
      limits: { keepLossAtMostDb: 3, pilotAttenuationAtLeastDb: 12 },
    });
    expect(made.value.assumptions.some(({ code }) => code === 'pilot-limit-derived')).toBe(false);
  });

  it('judges by what the rig asks for instead', () => {
    const asked = recipeOf({ ...rig, guard: { pilotAttenuationAtLeastDb: db(40), keepLossAtMostDb: db(2) } });
    expect(asked.mixes[0]?.guard?.limits).toMatchObject({
      pilotAttenuationAtLeastDb: 40,
      keepLossAtMostDb: 2,
    });
    expect(asked.mixes[0]?.guard?.verdict).toBe('falls-short');
    expect(recipe.mixes[0]?.guard?.verdict).toBe('met');
  });
});

describe('what could not be done as asked', () => {
  it('is told with what it costs at the pilot, and left out of nothing else', () => {
    const { problems, mixes } = recipeOf({ ...rig, mixes: rig.mixes.slice(1, 2) }, 'four-band');
    const highCut = problems.find(({ message }) => message.includes('high cut at 15 kHz'));
    expect(highCut).toMatchObject({ code: 'no-place', path: 'mixes[0]' });
    expect(highCut?.message).toMatch(/costs [\d.]+ to [\d.]+ dB of attenuation at the pilot/);
    expect(mixes[0]?.filters.some(({ role }) => role === 'pilot-cut')).toBe(true);
  });

  it('refuses outputs and slots the desk does not have', () => {
    const desk = makeDesk(targetNamed('log-179'));
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const beyond: Rig = {
      ...rig,
      mixes: [{ name: 'Far', outputs: [1, 99], feeds: 'packs', freeSlots: ['1', 'nine'] }],
    };
    const refused = makeRecipe(beyond, desk.value, { fit: nearest, spareSlots: 0 });
    expect(refused.ok ? [] : refused.error.map(({ code, path }) => [code, path])).toEqual([
      ['output-unknown', 'mixes[0].outputs[1]'],
      ['slot-unknown', 'mixes[0].freeSlots[1]'],
    ]);
  });
});

describe('pairs', () => {
  const madeOn = (outputs: readonly number[], pairs?: Target['outputs']['pairs'], feeds = 'packs') => {
    const { outputs: own, ...target } = targetNamed('log-179');
    const desk = makeDesk({ ...target, outputs: { ...own, ...(pairs === undefined ? {} : { pairs }) } });
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const of: Rig = { ...rig, mixes: [{ name: 'Voice', outputs, feeds }] };
    const made = makeRecipe(of, desk.value, { fit: nearest, spareSlots: 0 });
    return made.ok ? [] : made.error.map(({ code, path, message }) => [code, path, message]);
  };
  const refused = (says: string) => [['pair-unknown', 'mixes[0].outputs', expect.stringContaining(says)]];

  it.each<[string, readonly number[], Target['outputs']['pairs'], string]>([
    ['two far apart', [3, 16], undefined, 'Write [3, 4] or [15, 16]'],
    ['right before left', [2, 1], undefined, 'Write [1, 2]'],
    ['two the list lacks', [1, 2], ['3/4'], 'Its pairs are 3/4'],
  ])('that the desk does not have are refused, whatever the mix feeds: %s', (_, outputs, pairs, says) => {
    for (const feeds of ['packs', 'cable', 'radio'])
      expect(madeOn(outputs, pairs, feeds)).toEqual(refused(says));
  });

  it.each<[string, readonly number[], Target['outputs']['pairs']]>([
    ['odd and even', [3, 4], undefined],
    ['one alone', [16], undefined],
    ['any two', [3, 16], 'any'],
    ['a listed one', [9, 1], ['9/1']],
  ])('that it has are not: %s', (_, outputs, pairs) => {
    expect(madeOn(outputs, pairs)).toEqual([]);
  });

  it('are taken to be set up where any two may be one, and that is said', () => {
    const { outputs: own, ...target } = targetNamed('log-179');
    const desk = makeDesk({ ...target, outputs: { ...own, pairs: 'any' } });
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const notedFor = (outputs: readonly number[], feeds: string) => {
      const of: Rig = { ...rig, mixes: [{ name: 'Voice', outputs, feeds }] };
      const made = makeRecipe(of, desk.value, { fit: nearest, spareSlots: 0 });
      return made.ok && made.value.assumptions.some(({ code }) => code === 'pairs-assumed-linked');
    };
    expect(notedFor([3, 16], 'packs')).toBe(true);
    expect([notedFor([3], 'packs'), notedFor([3, 16], 'cable')]).toEqual([false, false]);
    expect(recipeOf().assumptions.map(({ code }) => code)).not.toContain('pairs-assumed-linked');
  });

  it('are for whoever dials to choose where each output has filters of its own', () => {
    const of: Rig = { ...rig, mixes: [{ name: 'Voice', outputs: [16, 3], feeds: 'packs' }] };
    expect(recipeOf(of, 'two-legs').mixes.map(({ outputs }) => outputs)).toEqual([[16, 3]]);
  });
});

describe('pre-emphasis', () => {
  const withPreEmphasis = (preEmphasisMicroseconds: number, guard: Rig['guard'] = {}): Recipe => {
    const packs = {
      link: 'fm-stereo',
      audioLowHz: hz(40),
      audioHighHz: hz(15000),
      lineUpDbfs: db(0),
    } as const;
    const mixes = [{ name: 'Voice', outputs: [1, 2], feeds: 'packs' }];
    const systems = { packs: { ...packs, preEmphasisMicroseconds } };
    return recipeOf({ ...rig, systems, mixes, guard });
  };
  const toldIn = ({ assumptions }: Recipe) =>
    assumptions
      .filter(({ code }) => code.startsWith('pre-emphasis'))
      .map(({ code, message }) => [code, message]);

  // 50: ITU-R BS.450; 75: 47 CFR 73.317; 25 and 0: from memory. By hand: 10 log10(1 + (2π·19000·τ)²).
  it.each([
    { microseconds: 25, limitDb: 9.96, told: [] },
    { microseconds: 50, limitDb: 15.638, told: [] },
    { microseconds: 75, limitDb: 19.094, told: [] },
    {
      microseconds: 60,
      limitDb: 17.186,
      told: ['given as 60 microseconds', 'usual are 50 or 75', 'check it'],
    },
    { microseconds: 500, limitDb: 35.519, told: ['given as 500 microseconds', 'Did you mean 50?'] },
    { microseconds: 7.5, limitDb: 2.557, told: ['given as 7.5 microseconds', 'Did you mean 75?'] },
  ])(
    'of $microseconds µs is used, and asked about where it is unusual',
    ({ microseconds, limitDb, told }) => {
      const recipe = withPreEmphasis(microseconds);
      const [found] = toldIn(recipe);
      expect(found?.[0]).toBe(told.length > 0 ? 'pre-emphasis-unusual' : undefined);
      for (const part of told) expect(found?.[1]).toContain(part);
      expect(recipe.mixes[0]?.guard?.preEmphasisMicroseconds).toEqual([microseconds]);
      expect(recipe.mixes[0]?.guard?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(limitDb, 2);
    },
  );

  it('of 0 adds nothing at the pilot, so nothing is asked for there, and that is said', () => {
    const recipe = withPreEmphasis(0);
    const { guard } = recipe.mixes[0] ?? {};
    expect(guard?.limits.pilotAttenuationAtLeastDb).toBe(0);
    // Pink noise at -18 dBFS, a sine of 0 dBFS taking 90 %: 10 log10(0.09² / (0.9² · 10^-1.8 · share)), the share of
    // 18.9 to 19.1 kHz in 20 Hz to 20 kHz being ln(19.1/18.9) / ln 1000 = 0.0015238. By hand: 26.17 dB.
    expect(guard?.unfilteredPilotToProgrammeDb?.leastDb).toBeCloseTo(26.17, 2);
    expect(toldIn(recipe)).toEqual([
      [
        'pre-emphasis-none',
        expect.stringContaining('that a guard is met, or a pilot is safe, says little then'),
      ],
    ]);
  });

  it('of 0 is not said where an attenuation is asked for', () => {
    const recipe = withPreEmphasis(0, { pilotAttenuationAtLeastDb: db(12) });
    expect(toldIn(recipe)).toEqual([]);
    expect(recipe.mixes[0]?.guard?.limits.pilotAttenuationAtLeastDb).toBe(12);
  });
});

describe('frequencies no sample rate carries', () => {
  it.each([
    {
      name: 'a pilot above half of it',
      change: {
        systems: { ...rig.systems, packs: { ...rig.systems.packs, pilotHz: hz(30000) } },
      } as Partial<Rig>,
      path: 'systems.packs.pilotHz',
    },
    {
      name: 'a band to keep that reaches above',
      change: { guard: { keepHighHz: hz(25000) } },
      path: 'guard.keepHighHz',
    },
  ])('are refused: $name', ({ change, path }) => {
    const desk = makeDesk(targetNamed('log-179'));
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const refused = makeRecipe({ ...rig, ...change }, desk.value, { fit: nearest, spareSlots: 0 });
    expect(refused.ok ? [] : refused.error).toEqual(
      expect.arrayContaining([expect.objectContaining({ code: 'beyond-sample-rate', path })]),
    );
  });
});

it.each([
  {
    name: 'a band to keep that reaches into the window',
    change: { guard: { keepHighHz: hz(18950) } },
    code: 'keep-band-meets-pilot',
  },
  {
    name: 'a system that no mix feeds is no matter',
    change: {
      systems: {
        ...rig.systems,
        spare: { link: 'fm-stereo', audioLowHz: hz(40), audioHighHz: hz(15000), pilotHz: hz(30000) },
      },
    },
    code: null,
  },
] as { name: string; change: Partial<Rig>; code: string | null }[])(
  'looks at frequencies in effect: $name',
  ({ change, code }) => {
    const desk = makeDesk(targetNamed('log-179'));
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const made = makeRecipe({ ...rig, ...change }, desk.value, { fit: nearest, spareSlots: 0 });
    expect(made.ok ? [] : made.error.map((each) => each.code)).toEqual(code === null ? [] : [code]);
  },
);

it("gives no role of a user's own a meaning it does not have", () => {
  // "constructor" is a lawful role; looked up carelessly it would be found in every object.
  const own = {
    role: 'constructor',
    type: 'peaking',
    frequencyHz: hz(1000),
    q: q(2),
    gainDb: db(-3),
  } as const;
  const { mixes, problems } = recipeOf({ ...rig, mixes: rig.mixes.slice(1, 2), intents: [own] });
  expect(mixes[0]?.filters.map(({ role }) => role)).toContain('constructor');
  expect(problems).toEqual([]);
});

describe('a filter of a rig that breaks a limit all alone', () => {
  const one = { ...rig, mixes: rig.mixes.slice(1, 2) };
  const bell = { role: 'presence', type: 'peaking', frequencyHz: hz(3000), q: q(1) } as const;

  it.each([
    // A bell's gain at its own frequency is what its knob says: W3C Audio EQ Cookbook, peakingEQ.
    { gainDb: db(6), guard: {}, codes: ['own-filter-raises'], says: /adds up to 6\.0 dB.*--allow-rise/ },
    {
      gainDb: db(-6),
      guard: { keepLossAtMostDb: db(2) },
      codes: ['own-filter-loses'],
      says: /takes up to 6\.0 dB, at most 2\.0 dB asked/,
    },
    // Without a stated limit the loss of a filter that is written is its writer's own business.
    { gainDb: db(-6), guard: {}, codes: [], says: /^$/ },
  ])('$gainDb dB, $guard', ({ gainDb, guard, codes, says }) => {
    const { problems, mixes } = recipeOf({
      ...one,
      intents: [{ ...bell, gainDb }],
      guard: { pilotAttenuationAtLeastDb: db(10), ...guard },
    });
    expect(problems.map(({ code }) => code)).toEqual(codes);
    expect(problems.map(({ message }) => message).join(' ')).toMatch(says);
    expect(mixes[0]?.guard?.verdict).toBe(codes.length > 0 ? 'falls-short' : 'met');
  });
});
