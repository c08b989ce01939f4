import { describe, expect, it } from 'vitest';
import { guardScope } from '../../src/guard/guard-scope.js';
import { besideRecipe, needsRecipe } from '../../src/live/inspect/beside-recipe.js';
import { inspectMix } from '../../src/live/inspect/inspect-mix.js';
import type { InspectedMix, MixRecipe, WeighedFinding } from '../../src/live/inspect/inspection.js';
import { planInspection } from '../../src/live/inspect/plan-inspection.js';
import { planPush } from '../../src/live/plan/plan-push.js';
import { survey } from '../../src/live/write/survey.js';
import type { Desk } from '../../src/model/desk.js';
import { protectiveRoles } from '../../src/model/intent.js';
import { knobNames } from '../../src/model/knob.js';
import type { Rig } from '../../src/model/rig.js';
import { shippedTargets } from '../../src/node/targets.js';
import { argumentFor } from '../../src/osc/encodings/registry.js';
import type { OscArgument } from '../../src/osc/message.js';
import { db, hz } from '../../src/units/quantity.js';
import { fakeSession } from './fake-session.js';
import { recipeOn, shippedDesk, rig as show } from './recipe-on.js';
import { answersOf, type SlotAnswers, steplessDesk } from './stepless-desk.js';
import { takenAtPilotDb, type WebAudioFilter } from './web-audio.js';

const heron: Rig = { ...show, mixes: show.mixes.filter(({ name }) => name === 'Heron') };

/** The recipe of the one mix of a rig, every knob at its nearest step. */
const recipeFor = (desk: Desk, rig: Rig = heron): MixRecipe => {
  const [mix] = recipeOn(desk, rig).mixes;
  if (!mix) throw new Error('no mix');
  const { filters, missing } = mix;
  return {
    filters,
    missing,
    isProved: true,
    hasSpareSlot: false,
    areSlotsListed: false,
    hasOtherSlots: false,
  };
};

const inspect = async (
  answers: ReadonlyMap<string, OscArgument>,
  desk: Desk,
  askedDb: number,
  recipe: MixRecipe,
): Promise<{ readonly alone: InspectedMix; readonly beside: InspectedMix }> => {
  const plans = planInspection(heron, desk);
  if (!plans.ok) throw new Error(JSON.stringify(plans.error));
  const surveyed = await survey(
    plans.value.map(({ plan }) => plan),
    desk,
    fakeSession(answers).session,
    new AbortController().signal,
  );
  const mix = surveyed?.[0];
  if (!mix) throw new Error('nothing was read');
  const scope = guardScope(hz(19000), { pilotAttenuationAtLeastDb: db(askedDb), keepLossAtMostDb: db(30) });
  const alone = inspectMix(mix, desk, { scope, keepLossAsAskedDb: null, roles: protectiveRoles });
  return { alone, beside: besideRecipe(alone, mix, recipe, desk) };
};

const findingsOf = ({ read }: InspectedMix): readonly WeighedFinding[] =>
  read.flatMap(({ findings }) => findings);

const kindsOf = (mix: InspectedMix, weight: WeighedFinding['weight']): readonly string[] =>
  findingsOf(mix).flatMap((each) => (each.weight === weight ? [each.kind] : []));

const found = <Kind extends WeighedFinding['kind']>(mix: InspectedMix, kind: Kind) => {
  const finding = findingsOf(mix).find((each) => each.kind === kind);
  if (!finding) throw new Error(`nothing found of ${kind}`);
  return finding as WeighedFinding & { readonly kind: Kind };
};

const desk = await steplessDesk();

// The filters derived for that rig, as the README tells them, in the slots by frequency; each as the desk answers, and
// in the terms of the W3C Web Audio API, whose figures are expected.
const lowCut: SlotAnswers = { type: 'Low cut', frequency: 40, slope: 12 };
const highCut: SlotAnswers = { type: 'High cut', frequency: 15000, slope: 12 };
const bell: SlotAnswers = { type: 'Bell', frequency: 19000, q: 10, gain: -15 };
const asSet = { 1: lowCut, 2: highCut, 3: bell };
const highCutW3c: WebAudioFilter = { type: 'lowpass', frequencyHz: 15000 };
const bellW3c: WebAudioFilter = { type: 'peaking', frequencyHz: 19000, q: 10, gainDb: -15 };
const shelf: SlotAnswers = { type: 'High shelf', frequency: 8000, gain: 6 };
const shelfW3c: WebAudioFilter = { type: 'highshelf', frequencyHz: 8000, gainDb: 6 };
const recipeDb = takenAtPilotDb(highCutW3c, bellW3c);

/** Single precision, theirs. */
const digits = 3;

const standing = async (
  slots: Readonly<Record<string, SlotAnswers>>,
  askedDb: number,
  recipe: MixRecipe = recipeFor(desk),
): Promise<InspectedMix> => {
  const { alone, beside } = await inspect(answersOf(1, 'Heron', slots), desk, askedDb, recipe);
  // What is read does not hang on what it is held against.
  expect([beside.state, beside.read[0]?.worst]).toEqual([alone.state, alone.read[0]?.worst]);
  return beside;
};

describe('a mix beside its recipe', () => {
  it('is held against the filters the README tells', () => {
    expect(recipeFor(desk).filters.map(({ slot, role }) => [slot, role])).toEqual([
      ['1', 'low-cut'],
      ['2', 'high-cut'],
      ['3', 'pilot-cut'],
    ]);
    expect(recipeDb).toBeGreaterThan(20);
    expect(recipeDb).toBeLessThan(40);
  });

  // Asked: 12 dB, which the recipe takes; 40 dB, which it does not.
  it.each<{
    readonly name: string;
    readonly slots: Readonly<Record<string, SlotAnswers>>;
    readonly askedDb: number;
    readonly risks: readonly string[];
    readonly toSet: readonly string[];
  }>([
    { name: 'it stands, and is enough', slots: asSet, askedDb: 12, risks: [], toSet: [] },
    { name: 'it stands, and is not enough', slots: asSet, askedDb: 40, risks: ['as-recipe'], toSet: [] },
    {
      name: 'nothing stands',
      slots: {},
      askedDb: 12,
      risks: ['no-cut-near', 'no-high-cut', 'recipe-sets'],
      toSet: ['1', '2', '3'],
    },
    {
      name: 'a cut of it is off',
      slots: { ...asSet, 3: { ...bell, on: 0 } },
      askedDb: 12,
      risks: ['no-cut-near', 'cut-is-off', 'recipe-sets'],
      toSet: ['3'],
    },
    {
      name: 'a cut of it stands beside its place',
      slots: { ...asSet, 3: { ...bell, frequency: 18664 } },
      askedDb: 40,
      risks: ['cut-misses', 'recipe-sets'],
      toSet: ['3'],
    },
    {
      name: 'a cut of it is shallower',
      slots: { ...asSet, 3: { ...bell, gain: -9 } },
      askedDb: 40,
      risks: ['cut-too-weak', 'recipe-sets'],
      toSet: ['3'],
    },
    {
      name: 'the cut at the pilot stands, and the high cut elsewhere',
      slots: { ...asSet, 2: { ...highCut, frequency: 18000 } },
      askedDb: 40,
      risks: ['recipe-sets'],
      toSet: ['2'],
    },
    {
      name: 'what is dialled takes more already',
      slots: { ...asSet, 2: { ...highCut, frequency: 12000 }, 3: { ...bell, q: 4 } },
      askedDb: 40,
      risks: ['cut-too-weak', 'recipe-no-better'],
      toSet: ['2', '3'],
    },
    {
      name: 'it stands, and a filter of the engineer lifts the pilot',
      slots: { ...asSet, 4: shelf },
      askedDb: 20,
      risks: ['lifts-pilot', 'as-recipe'],
      toSet: [],
    },
    {
      name: 'it stands, a filter lifts the pilot, and it would not be enough without',
      slots: { ...asSet, 4: shelf },
      askedDb: 40,
      risks: ['lifts-pilot', 'as-recipe'],
      toSet: [],
    },
    {
      name: 'a filter that lifts the pilot stands where it has another',
      slots: { ...asSet, 2: shelf },
      askedDb: 20,
      risks: ['lifts-pilot', 'no-high-cut', 'recipe-sets'],
      toSet: ['2'],
    },
    {
      name: 'other cuts would do without what lifts the pilot',
      slots: { 1: lowCut, 2: highCut, 3: { ...bell, q: 4 }, 4: shelf },
      askedDb: 22,
      risks: ['lifts-pilot'],
      toSet: ['3'],
    },
  ])('tells what to do where $name', async ({ slots, askedDb, risks, toSet }) => {
    const mix = await standing(slots, askedDb);
    expect(kindsOf(mix, 'risk')).toEqual(risks);
    expect(mix.state).toBe(risks.length === 0 ? 'safe' : 'at-risk');
    const beside = mix.read[0]?.recipe;
    expect(beside?.toSet.map(({ slot }) => slot)).toEqual(toSet);
    expect(beside?.stands).toBe(toSet.length === 0);
    const shelved = slots[4] ? [shelfW3c] : [];
    expect(beside?.pilotAttenuationDb).toBeCloseTo(takenAtPilotDb(highCutW3c, bellW3c, ...shelved), digits);
  });

  it('counts what would be taken with it, every other slot left as it is', async () => {
    const sets = found(await standing({ ...asSet, 3: { ...bell, frequency: 18664 } }, 40), 'recipe-sets');
    expect(sets.pilotDb).toBeCloseTo(recipeDb, digits);
    expect([sets.hasLifts, sets.filters.map(({ set }) => [set.frequencyHz, set.q, set.gainDb])]).toEqual([
      false,
      [[19000, 10, -15]],
    ]);
  });

  it('counts what would be taken without what lifts the pilot', async () => {
    const mix = await standing({ ...asSet, 4: shelf }, 20);
    expect(mix.read[0]?.worst?.pilotAttenuationDb).toBeCloseTo(
      takenAtPilotDb(highCutW3c, bellW3c, shelfW3c),
      digits,
    );
    const stands = found(mix, 'as-recipe');
    expect([stands.hasLifts, found(mix, 'lifts-pilot').isReplaced]).toEqual([true, false]);
    expect(stands.pilotDb).toBeCloseTo(recipeDb, digits);
    const replaced = await standing({ ...asSet, 2: shelf }, 20);
    expect(found(replaced, 'lifts-pilot').isReplaced).toBe(true);
  });

  it('tells of what acts in the slots it would set, unless they are listed as free', async () => {
    const own: SlotAnswers = { type: 'Bell', frequency: 300, q: 1, gain: -4 };
    const moved = { 1: own, 2: { ...highCut, frequency: 18000 }, 3: { ...bell, frequency: 18664 } };
    const inUse = async (recipe: MixRecipe): Promise<readonly string[]> =>
      found(await standing(moved, 40, recipe), 'recipe-sets').inUse.map(({ slot }) => slot);
    // The cuts that are only to be moved are no others.
    expect(await inUse(recipeFor(desk))).toEqual(['1']);
    expect(await inUse({ ...recipeFor(desk), areSlotsListed: true })).toEqual([]);
  });

  it('asks for no cut in a slot where something else acts: that may be what keeps the pilot safe', async () => {
    const mix = await standing({ 1: { ...bell, q: 4 }, 2: highCut }, 12);
    expect([mix.state, found(mix, 'no-low-cut').recipe]).toEqual(['safe', undefined]);
  });

  it('asks for no cut that has no place, and says what it has for one that is missing', async () => {
    const full = recipeFor(desk);
    const bare: MixRecipe = {
      ...full,
      filters: full.filters.filter(({ role }) => role !== 'low-cut'),
      missing: [{ role: 'low-cut', type: 'highpass', why: 'no-place' }],
    };
    for (const askedDb of [12, 40]) {
      const mix = await standing({ 2: highCut, 3: bell }, askedDb, bare);
      expect(found(mix, 'no-low-cut')).toMatchObject({ weight: 'notice', recipe: 'no-place' });
      expect(kindsOf(mix, 'risk')).toEqual(askedDb === 12 ? [] : ['as-recipe']);
    }
    const missing = found(await standing({ 2: highCut, 3: bell }, 12, full), 'no-low-cut');
    expect(missing.recipe).toMatchObject({ slot: '1', set: { frequencyHz: 40 } });
  });

  it('misses no high cut where it leaves that out, or has another kind of filter in its place', async () => {
    const full = recipeFor(desk);
    const leftOut: MixRecipe = {
      ...full,
      filters: full.filters.filter(({ role }) => role !== 'high-cut'),
      missing: [{ role: 'high-cut', type: 'lowpass', why: 'left-out' }],
    };
    const without = await standing({ 1: lowCut, 3: bell }, 40, leftOut);
    expect(found(without, 'no-high-cut')).toMatchObject({ weight: 'notice', recipe: 'left-out' });
    const shelved = recipeFor(desk, {
      ...heron,
      intents: [{ role: 'high-cut', type: 'highshelf', frequencyHz: hz(12000), gainDb: db(-12) }],
    });
    const slots = { 1: lowCut, 2: { type: 'High shelf', frequency: 12000, gain: -12 }, 3: bell };
    const mix = await standing(slots, 12, shelved);
    expect([mix.state, findingsOf(mix)]).toEqual(['safe', []]);
  });

  it('is compared only where something of it can be mended by a setting', async () => {
    const needs = async (slots: Readonly<Record<string, SlotAnswers>>, askedDb: number): Promise<boolean> =>
      needsRecipe((await inspect(answersOf(1, 'Heron', slots), desk, askedDb, recipeFor(desk))).alone);
    const own: SlotAnswers = { type: 'Bell', frequency: 300, q: 1, gain: 4 };
    expect(await needs(asSet, 12)).toBe(false);
    expect(await needs({ ...asSet, 4: own }, 12)).toBe(false);
    expect(await needs({ 2: highCut, 3: bell }, 12)).toBe(true);
    expect(await needs(asSet, 40)).toBe(true);
  });

  it('is not compared where something of it is not known', async () => {
    const answers = new Map(answersOf(1, 'Heron', asSet));
    answers.delete('/mix/1/filter/3/q');
    const { alone, beside } = await inspect(answers, desk, 40, recipeFor(desk));
    expect([beside.state, beside.read]).toEqual(['not-known', alone.read]);
    expect(needsRecipe(alone)).toBe(false);
  });

  it('is compared leg by leg where they are dialled apart', async () => {
    const apart = await shippedDesk('floats', (target) => ({
      ...target,
      outputs: { ...target.outputs, stereo: 'legs-separate' },
    }));
    const legs = new Map([
      ...answersOf(1, 'Heron', asSet),
      ...answersOf(2, 'Heron', { ...asSet, 3: { ...bell, gain: -9 } }),
    ]);
    const { beside } = await inspect(legs, apart, 40, recipeFor(apart));
    expect(beside.read.map(({ output, recipe }) => [output, recipe?.toSet.map(({ slot }) => slot)])).toEqual([
      [1, []],
      [2, ['3']],
    ]);
  });
});

const readable = (await Promise.all((await shippedTargets()).map(({ id }) => shippedDesk(id)))).filter(
  ({ target: { osc } }) => osc && osc.read !== 'none',
);

/** What a desk answers that was set as its recipe has it, and nothing besides. */
const setOn = (on: Desk): Map<string, OscArgument> => {
  const plans = planPush(recipeOn(on, heron), on);
  if (!plans.ok) throw new Error(JSON.stringify(plans.error));
  // Every other slot answers too: off, and all its knobs at their bottom stops.
  const rest = planInspection(heron, on);
  const untouched = (rest.ok ? rest.value : []).flatMap(({ plan }) =>
    plan.slots.flatMap(({ parameters }) =>
      parameters.map(({ address, encoding, scaleAs }) => {
        const sent = argumentFor(encoding, scaleAs(null).at(0));
        if (!sent.ok) throw new Error(sent.error);
        return [address, sent.value] as const;
      }),
    ),
  );
  const wanted = plans.value.flatMap(({ slots }) =>
    slots.flatMap((slot) =>
      slot.parameters.flatMap(({ name, address }) => {
        const argument = slot.wanted.get(name)?.argument;
        return argument ? [[address, argument] as const] : [];
      }),
    ),
  );
  return new Map([...untouched, ...wanted]);
};

describe('what stands as its recipe', () => {
  it('is looked for on every desk that can be read', () => {
    expect(readable.length).toBeGreaterThan(5);
  });

  it.each(readable.map((on) => [on.target.id, on] as const))(
    '%s: is all of it to the step, and not a step beside',
    async (_, on) => {
      const recipe = recipeFor(on);
      const answers = setOn(on);
      const asRecipe = await inspect(answers, on, 120, recipe);
      expect(asRecipe.beside.read.map((each) => each.recipe?.stands)).toEqual(
        asRecipe.beside.read.map(() => true),
      );
      const plans = planPush(recipeOn(on, heron), on);
      let turned = 0;
      for (const { output, slot, parameters } of plans.ok ? (plans.value[0]?.slots ?? []) : []) {
        const placed = recipe.filters.find((each) => each.slot === slot.id);
        for (const { name, address, encoding, scaleAs } of parameters) {
          const knob = knobNames.find((each) => each === name);
          const position = knob && placed?.steps[knob];
          const scale = placed && scaleAs(placed.type);
          if (!position || !scale || scale.count < 2) continue;
          // Of a dial without steps, which has millions of them, a little.
          const little = Math.ceil(scale.count / 1e6);
          const sent = argumentFor(
            encoding,
            scale.at(position.index + (position.index === 0 ? little : -little)),
          );
          if (!sent.ok) throw new Error(sent.error);
          const { beside } = await inspect(new Map([...answers, [address, sent.value]]), on, 120, recipe);
          const leg = beside.read.find((each) => each.output === output);
          // A cut of 0 dB is flat, and one that cannot be built not known: neither is as the recipe has it.
          expect(leg?.recipe?.toSet.map((each) => each.slot) ?? [slot.id]).toEqual([slot.id]);
          turned++;
        }
      }
      expect(turned).toBeGreaterThan(4);
    },
  );
});
