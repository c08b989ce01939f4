import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeRecipe } from '../../src/fitting/make-recipe.js';
import { nearest } from '../../src/fitting/nearest.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import type { Target } from '../../src/model/target.js';
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
      bands: [],
      guard: null,
      reason: expect.stringContaining('wired'),
    });
    expect(recipe.mixes[3]).toMatchObject({
      bands: [],
      guard: null,
      reason: expect.stringContaining('digital'),
    });
  });

  it("never takes a slot of the engineer's own", () => {
    expect(recipe.mixes[0]?.bands.map(({ slot }) => slot)).toEqual(['2', '3', '4']);
    expect(recipe.mixes[1]?.bands.map(({ slot }) => slot)).toEqual(['1', '2', '3']);
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
    const guard = { windowHz: hz(50), keepHighHz: hz(10000), keepLossLimitDb: db(3) };
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
    const asked = recipeOf({ ...rig, guard: { pilotAttenuationAtLeastDb: db(12), keepLossLimitDb: db(2) } });
    expect(asked.mixes[0]?.guard?.limits).toMatchObject({
      pilotAttenuationAtLeastDb: 12,
      keepLossAtMostDb: 2,
    });
    expect(asked.mixes[0]?.guard?.verdict).toBe('met');
    expect(recipe.mixes[0]?.guard?.verdict).toBe('falls-short');
  });
});

describe('what could not be done as asked', () => {
  it('is told with what it costs at the pilot, and left out of nothing else', () => {
    const { problems, mixes } = recipeOf({ ...rig, mixes: rig.mixes.slice(1, 2) }, 'four-band');
    const highCut = problems.find(({ message }) => message.includes('high cut at 15 kHz'));
    expect(highCut).toMatchObject({ code: 'no-place', path: 'mixes[0]' });
    expect(highCut?.message).toMatch(/costs [\d.]+ to [\d.]+ dB of attenuation at the pilot/);
    expect(mixes[0]?.bands.some(({ role }) => role === 'pilot-cut')).toBe(true);
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
  expect(mixes[0]?.bands.map(({ role }) => role)).toContain('constructor');
  expect(problems).toEqual([]);
});
