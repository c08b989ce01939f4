import { describe, expect, it } from 'vitest';
import { planPush, rises } from '../../src/live/plan/plan-push.js';
import type { Recipe, RecipeMix } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import { db, hz, q } from '../../src/units/quantity.js';
import { recipeOn, rig, shippedDesk } from './recipe-on.js';

const desk = await shippedDesk('cut-section');
const recipe = recipeOn(desk);

const withMix = (name: string, change: (mix: RecipeMix) => RecipeMix): Recipe => ({
  ...recipe,
  mixes: recipe.mixes.map((mix) => (mix.name === name ? change(mix) : mix)),
});

/** The recipe with one knob position of Heron's pilot cut changed. */
const withGain = (change: { index?: number; of?: number; gainDb?: number }): Recipe =>
  withMix('Heron', (mix) => ({
    ...mix,
    filters: mix.filters.map((placed) => {
      const { gain } = placed.steps;
      if (!gain) return placed;
      const steps = { ...placed.steps, gain: { ...gain, ...change } } as typeof placed.steps;
      const set = { ...placed.set, ...(change.gainDb === undefined ? {} : { gainDb: db(change.gainDb) }) };
      return { ...placed, steps, set };
    }),
  }));

const codesOf = (of: Recipe, on = desk): readonly string[] => {
  const plans = planPush(of, on);
  return plans.ok ? [] : plans.error.map(({ code }) => code);
};

describe('what a push is going to write', () => {
  it('holds the mixes to be guarded, on the first leg where legs share, and no other', () => {
    const plans = planPush(recipe, desk);
    if (!plans.ok) throw new Error(JSON.stringify(plans.error));
    expect(plans.value.map(({ name }) => name)).toEqual(['Heron', 'Lark']);
    expect(plans.value.flatMap(({ slots }) => slots.map(({ output }) => output))).toEqual([1, 1, 1, 5, 5, 5]);
  });

  it('holds both legs where they are dialled one by one', async () => {
    const separate = await shippedDesk('two-legs');
    const plans = planPush(recipeOn(separate), separate);
    if (!plans.ok) throw new Error(JSON.stringify(plans.error));
    expect(new Set(plans.value[0]?.slots.map(({ output }) => output))).toEqual(new Set([1, 2]));
  });

  // A recipe is a file that anybody may edit: nothing in it may lead a push astray. Gains on this target go from
  // -15 to 15 dB by 0.5 dB: 61 steps, step 0 at -15 dB.
  it.each<[string, Recipe, string]>([
    ['a value that is not the one of its step', withGain({ gainDb: -14.75 }), 'recipe-off-grid'],
    ['a step of another value', withGain({ index: 1 }), 'recipe-off-grid'],
    ['a step beyond the grid', withGain({ index: 61 }), 'recipe-off-grid'],
    ['a grid of another size', withGain({ of: 60 }), 'recipe-off-grid'],
    [
      'a slot the target has not',
      withMix('Heron', (mix) => ({
        ...mix,
        filters: mix.filters.map((placed) => ({ ...placed, slot: '9' })),
      })),
      'slot-unknown',
    ],
    [
      'a wired mix that is said to be guarded',
      withMix('Drums', (mix) => ({ ...mix, treatment: 'protect', filters: recipe.mixes[0]?.filters ?? [] })),
      'leave-alone',
    ],
    [
      'a digital mix with filters of its own',
      withMix('Choir', (mix) => ({ ...mix, filters: recipe.mixes[0]?.filters ?? [] })),
      'leave-alone',
    ],
    [
      'an output the desk has not',
      withMix('Lark', (mix) => ({ ...mix, outputs: [33] })),
      'output-beyond-target',
    ],
    [
      'two outputs that are no pair of it',
      withMix('Heron', (mix) => ({ ...mix, outputs: [1, 3] })),
      'pair-unknown',
    ],
    ['no outputs', withMix('Lark', (mix) => ({ ...mix, outputs: [] })), 'outputs-missing'],
    [
      'another target',
      { ...recipe, target: { ...recipe.target, id: 'log-179' } },
      'recipe-of-another-target',
    ],
    [
      'legs of another kind',
      { ...recipe, target: { ...recipe.target, stereo: 'legs-separate' } },
      'recipe-of-another-target',
    ],
  ])('refuses %s', (_, spoilt, code) => {
    expect(new Set(codesOf(spoilt))).toEqual(new Set([code]));
  });

  it('refuses a knob that OSC does not reach', async () => {
    const mute = await shippedDesk('cut-section', (target) => {
      const { q: _address, ...addresses } = target.osc?.addresses ?? {};
      const { q: _encoding, ...encodings } = target.osc?.encodings ?? {};
      return target.osc ? { ...target, osc: { ...target.osc, addresses, encodings } } : target;
    });
    expect(codesOf(recipe, mute)).toEqual(['osc-address-missing']);
  });

  it('refuses a target without OSC', async () => {
    const silent = await shippedDesk('four-band');
    expect(new Set(codesOf(recipeOn(silent), silent))).toEqual(new Set(['osc-missing']));
  });
});

describe('a recipe that raises a level', () => {
  const raising = (intents: NonNullable<Rig['intents']>): Recipe => recipeOn(desk, { ...rig, intents });
  const bell = { type: 'peaking', frequencyHz: hz(3000), q: q(1) } as const;

  it('is told for every gain above 0 dB, and for no other', () => {
    expect(rises(recipe, desk)).toEqual([]);
    const boosted = raising([{ ...bell, role: 'presence', gainDb: db(2) }]);
    expect(rises(boosted, desk).map(({ code }) => code)).toEqual(['raises-level', 'raises-level']);
    expect(rises(raising([{ ...bell, role: 'presence', gainDb: db(-2) }]), desk)).toEqual([]);
  });

  it('is told by what its filters do, whatever the recipe says of them', () => {
    // A second-order low-pass of Q 10 rises by nearly 20 dB at its corner: |H| = Q there (any textbook).
    const lowpass = { type: 'lowpass', set: { frequencyHz: hz(4000), q: q(10) } } as const;
    const resonant = withMix('Heron', (mix) => ({
      ...mix,
      filters: mix.filters.map((placed) => (placed.type === 'lowpass' ? { ...placed, ...lowpass } : placed)),
    }));
    const [told] = rises(resonant, desk);
    expect(told?.message).toMatch(/lift some frequency by (19|20)\.\d dB/);
  });

  it('is seen between the points that a desk-wide look would take, though every gain is a cut', async () => {
    // Frequencies of this target lie at 20 · 2000^(k/396) Hz, its Qs at 0.1 · 400^(k/199). SciPy at every 0.01 Hz says
    // 3.918 dB, and 0.006 dB at points 24 an octave (test/published/extremes-table.jsonl, first row).
    const wide = await shippedDesk('rate-96');
    const frequencyHz = hz(20 * 2000 ** (331 / 396));
    const sets = [
      { type: 'bandpass', set: { frequencyHz, q: q(0.1 * 400 ** (196 / 199)) } },
      { type: 'highshelf', set: { frequencyHz, q: q(40), gainDb: db(-6) } },
    ] as const;
    const narrow = (only: readonly (typeof sets)[number][]): Recipe => ({
      ...recipe,
      mixes: recipe.mixes.map((mix) => {
        const [placed] = mix.filters;
        return placed ? { ...mix, filters: only.map((each) => ({ ...placed, ...each })) } : mix;
      }),
    });
    expect(rises(narrow(sets), wide).map(({ message }) => message)).toEqual([
      expect.stringContaining('lift some frequency by 3.9 dB'),
      expect.stringContaining('lift some frequency by 3.9 dB'),
    ]);
    expect(rises(narrow(sets.slice(0, 1)), wide)).toEqual([]);
  });
});
