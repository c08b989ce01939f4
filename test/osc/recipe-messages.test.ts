import { describe, expect, it } from 'vitest';
import type { FilterType } from '../../src/filters/filter.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Osc, Target } from '../../src/model/target.js';
import { type RecipeMessage, recipeMessages } from '../../src/osc/recipe-messages.js';
import { recipe } from '../exporters/fixture.js';
import { target } from '../exporters/fixture-target.js';

const osc = (changes: Partial<Osc>): Target => ({ ...target, osc: { ...(target.osc as Osc), ...changes } });

const without = <Whole extends object, Key extends keyof Whole>(whole: Whole, key: Key): Omit<Whole, Key> => {
  const { [key]: _, ...rest } = whole;
  return rest;
};

const { addresses, encodings } = target.osc as Osc;

const messagesOf = (of: Recipe, on: Target): readonly RecipeMessage[] => {
  const outcome = recipeMessages(of, on);
  if (!outcome.ok) throw new Error(outcome.error.map(({ message }) => message).join('\n'));
  return outcome.value;
};

const shown = ({ message }: RecipeMessage): string =>
  `${message.address} ${message.args.map((argument) => `${argument.type}:${'value' in argument ? argument.value : ''}`)}`;

const problemsOf = (of: Recipe, on: Target) => {
  const outcome = recipeMessages(of, on);
  return outcome.ok ? [] : outcome.error;
};

const only = (index: number, changes: Partial<Recipe['mixes'][number]> = {}): Recipe => ({
  ...recipe,
  mixes: recipe.mixes.slice(index, index + 1).map((mix) => ({ ...mix, ...changes })),
});

describe('a recipe as messages', () => {
  it('switches a section off, sets it with the gain last, and switches it on', () => {
    const forOneLeg = messagesOf(only(0), target).filter(({ output }) => output === 3);
    expect(forOneLeg.map(shown)).toEqual([
      '/mix/3/filter/cut/on i:0',
      '/mix/3/filter/cut/frequency f:40',
      '/mix/3/filter/cut/slope i:18',
      '/mix/3/filter/cut/on i:1',
      '/mix/3/filter/3/on i:0',
      '/mix/3/filter/3/type i:0',
      '/mix/3/filter/3/frequency f:19320',
      '/mix/3/filter/3/q i:57',
      '/mix/3/filter/3/gain f:0',
      '/mix/3/filter/3/on i:1',
      '/mix/3/filter/4/on i:0',
      '/mix/3/filter/4/type i:4',
      '/mix/3/filter/4/frequency f:14925',
      '/mix/3/filter/4/q i:10',
      '/mix/3/filter/4/on i:1',
    ]);
  });

  const counting = (id: string, typeOrder: readonly FilterType[]): Target => ({
    ...target,
    slots: target.slots.map((slot) => (slot.id === id ? { ...slot, typeOrder } : slot)),
  });

  it('counts the types of a slot in its own order, where it has one, and those of others in that of all', () => {
    const own = counting('3', ['notch', 'lowshelf', 'peaking']);
    const types = messagesOf(only(0), own).filter(
      ({ parameter, output }) => parameter === 'type' && output === 3,
    );
    expect(types.map(shown)).toEqual(['/mix/3/filter/3/type i:2', '/mix/3/filter/4/type i:4']);
    expect(problemsOf(only(0), counting('3', ['notch']))).toContainEqual(
      expect.objectContaining({
        code: 'osc-type-without-index',
        path: `slots[${target.slots.findIndex(({ id }) => id === '3')}].typeOrder`,
      }),
    );
  });

  it('tells of every message what it sets where', () => {
    expect(messagesOf(only(0), target)[8]).toMatchObject({
      mix: 'Singer',
      output: 3,
      slot: '3',
      parameter: 'gain',
    });
  });

  it('leaves alone what is to be left alone', () => {
    const outputs = new Set(messagesOf(recipe, target).map(({ output }) => output));
    expect([...outputs]).toEqual([3, 4, 5, 1, 2, 11]);
  });

  it('writes both legs of a pair where they are separate, the first where they share', () => {
    const legsShare: Target = { ...target, outputs: { ...target.outputs, stereo: 'legs-share' } };
    expect([...new Set(messagesOf(only(0), target).map(({ output }) => output))]).toEqual([3, 4]);
    const made = only(0);
    const forShared: Recipe = { ...made, target: { ...made.target, stereo: 'legs-share' } };
    expect([...new Set(messagesOf(forShared, legsShare).map(({ output }) => output))]).toEqual([3]);
    expect(problemsOf(made, legsShare).map(({ path }) => path)).toEqual(['target.stereo']);
  });

  it('sends no knob that the target holds fixed, and gains as the desk counts them', () => {
    const drums = messagesOf(only(1), target).filter(({ slot }) => slot === '4');
    expect(drums.map(({ parameter }) => parameter)).toEqual(['on', 'type', 'frequency', 'gain', 'on']);
    // Step 5 of 35: 5 / 34, as the nearest 32-bit float.
    expect(drums[3]?.message.args).toEqual([{ type: 'f', value: Math.fround(5 / 34) }]);
  });

  it('sends a text as the desk shows it', () => {
    const talkback = messagesOf(only(5), target).map(shown);
    expect(talkback).toContain('/mix/11/filter/2/bandwidth s:0.500 oct');
  });

  it('sends a type by the desk’s own label, or the word people use', () => {
    const text = osc({ encodings: { ...encodings, type: { as: 'text', type: 's' } } });
    const types = messagesOf(only(5), text).filter(({ parameter }) => parameter === 'type');
    expect(types.map(shown)).toEqual(['/mix/11/filter/2/type s:notch', '/mix/11/filter/3/type s:Bass']);
    const cut = messagesOf(only(0), text).filter(
      ({ parameter, slot }) => parameter === 'type' && slot === 'cut',
    );
    expect(cut.map(shown)).toEqual(['/mix/3/filter/cut/type s:low cut', '/mix/4/filter/cut/type s:low cut']);
  });

  it('does without a switch where a desk has none', () => {
    const noSwitch = osc({ addresses: without(addresses, 'on') });
    expect(messagesOf(recipe, noSwitch).some(({ parameter }) => parameter === 'on')).toBe(false);
  });
});

describe('what cannot be sent is a problem that says what to change', () => {
  it.each<[string, Recipe, Target, string, string, RegExp]>([
    ['a target without OSC', recipe, without(target, 'osc'), 'osc-missing', 'osc', /dial the recipe by hand/],
    [
      'a recipe of another target',
      recipe,
      { ...target, id: 'six-bells' },
      'recipe-of-another-target',
      'target.id',
      /"four-bells".*"six-bells"/,
    ],
    [
      'a mix without outputs',
      only(5, { outputs: [] }),
      target,
      'outputs-missing',
      'mixes[0].outputs',
      /"-Talkback" names no output.*Name its outputs/,
    ],
    [
      'an output the target does not have',
      only(0, { outputs: [12, 13] }),
      target,
      'output-beyond-target',
      'mixes[0].outputs',
      /output 13; "four-bells" has outputs 1 to 12/,
    ],
    [
      'two outputs that are no pair',
      { ...only(0, { outputs: [2, 3] }), target: { ...recipe.target, stereo: 'legs-share' } },
      { ...target, outputs: { ...target.outputs, stereo: 'legs-share' } },
      'pair-unknown',
      'mixes[0].outputs',
      /Write \[1, 2\] or \[3, 4\]/,
    ],
    [
      'a slot the target does not have',
      only(0),
      { ...target, slots: target.slots.slice(0, 3) },
      'slot-unknown',
      'mixes[0].filters[2].slot',
      /no slot "4" that can be a lowpass/,
    ],
    [
      'a parameter without an address',
      only(0),
      osc({ addresses: without(addresses, 'gain') }),
      'osc-address-missing',
      'osc.addresses.gain',
      /does not reach gain, which slot 3 needs/,
    ],
    [
      'an address without an encoding',
      only(0),
      osc({ encodings: without(encodings, 'q') }),
      'osc-encoding-missing',
      'osc.encodings.q',
      /Add the encoding/,
    ],
    [
      'an address that pads a name',
      only(0),
      osc({ addresses: { ...addresses, frequency: '/mix/{output}/filter/{slot:02}/frequency' } }),
      'osc-address-unfit',
      'osc.addresses.frequency',
      /"cut" is no number/,
    ],
    [
      'a type that the order does not list',
      only(5),
      osc({ encodings: { ...encodings, type: { as: 'index', type: 'i', order: ['peaking'] } } }),
      'osc-type-without-index',
      'osc.encodings.type.order',
      /does not list notch/,
    ],
    [
      'a gain that an integer cannot carry',
      only(1),
      osc({ encodings: { ...encodings, gain: { as: 'engineering', type: 'i' } } }),
      'osc-value-unfit',
      'osc.encodings.gain',
      /gain of slot 4: -12\.5 cannot be sent as i.*Correct the encoding/,
    ],
  ])('%s', (_, of, on, code, path, message) => {
    expect(problemsOf(of, on)).toContainEqual({ code, path, message: expect.stringMatching(message) });
  });

  it('tells each once, however many mixes and legs meet it', () => {
    const problems = problemsOf(recipe, osc({ encodings: without(encodings, 'frequency') }));
    expect(problems).toHaveLength(1);
  });
});
