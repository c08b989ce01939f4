import { describe, expect, it } from 'vitest';
import { findingWords } from '../../src/cli/inspect/finding-words.js';
import { besideLimit, downOrUp } from '../../src/cli/words/beside-limit.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import type { MixRecipe, WeighedFinding } from '../../src/live/inspect/inspection.js';
import type { PlacedFilter } from '../../src/model/recipe.js';
import { cents, db, hz, q } from '../../src/units/quantity.js';

const scope = guardScope(hz(19000), { pilotAttenuationAtLeastDb: db(12) });
const bell = {
  slot: '2',
  filter: { type: 'peaking', frequencyHz: hz(18664), q: q(12), gainDb: db(-15) },
} as const;
const shelf = {
  slot: '4',
  filter: { type: 'highshelf', frequencyHz: hz(8000), gainDb: db(6) },
} as const;

const placed = (slot: string, type: PlacedFilter['type']): PlacedFilter => ({
  slot,
  role: 'any',
  type,
  asked: { role: 'any', type, frequencyHz: hz(19000) },
  set: { frequencyHz: hz(19000) },
  steps: {},
  error: { frequencyHz: hz(0), frequencyCents: cents(0) },
});

const recipe: MixRecipe = {
  filters: [placed('1', 'peaking')],
  missing: [],
  isProved: true,
  areSlotsListed: false,
  hasSpareSlot: false,
  hasOtherSlots: false,
};

const told = (finding: WeighedFinding, change: Partial<MixRecipe> = {}, on = scope): string =>
  findingWords(finding, {
    scope: on,
    recipe: { ...recipe, ...change },
    shown: 'on, bell',
    phrase: ({ type }) => `a ${type}`,
  });

describe('what is told of a mix as it stands', () => {
  it.each<[WeighedFinding, string]>([
    [
      { kind: 'lifts-pilot', weight: 'risk', ...shelf, liftDb: db(5.83) },
      'slot 4: high shelf at 8 kHz, +6 dB, lifts the pilot by 5.8 dB. Turn it down.',
    ],
    [
      { kind: 'lifts-pilot', weight: 'risk', ...shelf, liftDb: db(5.83), isReplaced: true },
      'slot 4: high shelf at 8 kHz, +6 dB, lifts the pilot by 5.8 dB.',
    ],
    [
      { kind: 'lifts-pilot', weight: 'notice', ...shelf, liftDb: db(5.83) },
      'note: slot 4: high shelf at 8 kHz, +6 dB, lifts the pilot by 5.8 dB; what cuts there makes up for it.',
    ],
    [{ kind: 'no-cut-near', weight: 'risk', pilotDb: db(0) }, 'Nothing at all cuts at the pilot.'],
    [
      { kind: 'no-cut-near', weight: 'risk', pilotDb: db(6.2) },
      'No bell or notch cuts near the pilot; what else cuts takes 6.2 dB there.',
    ],
    [
      { kind: 'cut-is-off', weight: 'risk', ...bell, pilotDb: db(12.3) },
      'slot 2: bell at 18.66 kHz, Q 12, -15 dB, is off. On, the pilot would be 12.3 dB down.',
    ],
    [
      {
        kind: 'cut-misses',
        weight: 'risk',
        ...bell,
        offsetHz: hz(-336),
        offsetCents: cents(-30.89),
        pilotDb: db(8.04),
        centredDb: db(14.5),
      },
      'slot 2: bell at 18.66 kHz, Q 12, -15 dB, stands 336 Hz (30.9 cents) below the pilot and takes 8.0 dB there.',
    ],
    [
      { kind: 'cut-too-weak', weight: 'risk', ...bell, pilotDb: db(5) },
      'slot 2: bell at 18.66 kHz, Q 12, -15 dB, takes 5.0 dB at the pilot.',
    ],
    [
      { kind: 'music-lost', weight: 'notice', ...bell, lossDb: db(1.04), limitDb: db(1) },
      'note: the music loses up to 1.04 dB from 80 Hz to 12 kHz, at most 1.00 dB asked; most by slot 2, bell at 18.66 kHz, Q 12, -15 dB. Leave it where it is meant.',
    ],
    [
      { kind: 'level-raised', weight: 'notice', ...shelf, riseDb: db(6), limitDb: db(0.1) },
      'note: up to 6.0 dB is added, at most 0.1 dB asked; most by slot 4, high shelf at 8 kHz, +6 dB. Leave it where it is meant.',
    ],
    [
      { kind: 'no-low-cut', weight: 'notice', offIn: 'low' },
      'note: no low cut is on; one stands in slot low, off.',
    ],
    [
      { kind: 'no-low-cut', weight: 'notice', offIn: 'low', recipe: placed('low', 'highpass') },
      'note: no low cut is on; one stands in slot low, off. Its recipe sets slot low to a highpass.',
    ],
    [
      { kind: 'no-low-cut', weight: 'notice', offIn: null, recipe: 'no-place' },
      'note: no low cut is on, and its recipe finds no place for one.',
    ],
    [
      { kind: 'no-high-cut', weight: 'notice', offIn: null, recipe: 'left-out' },
      'note: no high cut is on, nor in its recipe: the pilot is guarded better without.',
    ],
    [{ kind: 'no-high-cut', weight: 'risk', offIn: null }, 'no high cut is on.'],
    [
      {
        kind: 'unclear',
        weight: 'risk',
        slot: '3',
        unclear: [
          { parameter: 'q', why: 'unread' },
          { parameter: 'gain', why: 'unread' },
          { parameter: 'frequency', why: 'not-understood' },
        ],
      },
      `slot 3: it reads "on, bell"; q, gain did not answer, or not as the target says; frequency stands at nothing the target knows. Nothing can be promised: compare the target with the desk's manual, and the slot with the desk's display.`,
    ],
  ])('$kind', (finding, words) => {
    expect(told(finding)).toBe(words);
  });
});

describe('what is told of a mix beside its recipe', () => {
  const more =
    'Cut more outside this desk, or allow its recipe more music lost than 3.0 dB (--keep-loss-to-reach)';

  it.each<[WeighedFinding, string]>([
    [
      { kind: 'as-recipe', weight: 'risk', pilotDb: db(9.38), hasLifts: false },
      `It stands as its recipe, as good as this desk can do: 9.4 dB of the 12.0 dB asked. ${more}.`,
    ],
    [
      { kind: 'as-recipe', weight: 'risk', pilotDb: db(9.38), hasLifts: true },
      `Its recipe stands; without what lifts the pilot besides, that is as good as this desk can do: 9.4 dB of the 12.0 dB asked. ${more}.`,
    ],
    [
      { kind: 'as-recipe', weight: 'risk', pilotDb: db(14.2), hasLifts: true },
      'Its recipe stands; without what lifts the pilot besides, it would be 14.2 dB down.',
    ],
    [
      { kind: 'recipe-no-better', weight: 'risk', pilotDb: db(9.38), hasLifts: false },
      `Its recipe would take no more: 9.4 dB of the 12.0 dB asked. ${more}.`,
    ],
    [
      { kind: 'recipe-no-better', weight: 'risk', pilotDb: db(9.38), hasLifts: true },
      'Its recipe would take no more at the pilot while that is lifted: 9.4 dB.',
    ],
    [
      {
        kind: 'recipe-sets',
        weight: 'risk',
        filters: [placed('1', 'peaking'), placed('high', 'lowpass')],
        inUse: [{ ...shelf, slot: 'high' }],
        pilotDb: db(21.7),
        lossDb: db(1),
        isMoreLost: true,
        hasLifts: false,
      },
      'Set, as its recipe has it, slot 1 to a peaking; slot high to a lowpass. Then the pilot is 21.7 dB down. Now slot high is in use, high shelf at 8 kHz, +6 dB: list freeSlots in the rig if it is to stay.',
    ],
    [
      {
        kind: 'recipe-sets',
        weight: 'risk',
        filters: [placed('1', 'peaking')],
        inUse: [],
        pilotDb: db(9.38),
        lossDb: db(3.04),
        isMoreLost: true,
        hasLifts: false,
      },
      'Set, as its recipe has it, slot 1 to a peaking. Then it is as good as this desk can do: 9.4 dB of the 12.0 dB asked, and the music loses up to 3.04 dB by all that is on, at most 3.00 dB asked.',
    ],
    [
      {
        kind: 'recipe-sets',
        weight: 'risk',
        filters: [placed('1', 'peaking')],
        inUse: [],
        pilotDb: db(12.5),
        lossDb: db(6),
        isMoreLost: false,
        hasLifts: false,
      },
      'Set, as its recipe has it, slot 1 to a peaking. Then the pilot is 12.5 dB down.',
    ],
    [
      {
        kind: 'recipe-sets',
        weight: 'risk',
        filters: [placed('1', 'peaking')],
        inUse: [],
        pilotDb: db(9.38),
        lossDb: db(1),
        isMoreLost: true,
        hasLifts: true,
      },
      'Set, as its recipe has it, slot 1 to a peaking. Then the pilot is 9.4 dB down.',
    ],
  ])('%#', (finding, words) => {
    expect(told(finding)).toBe(words);
  });

  it.each<[Partial<MixRecipe>, typeof scope, string]>([
    [
      { hasSpareSlot: true },
      scope,
      'as good as this desk can do without a slot more: 9.4 dB of the 12.0 dB asked. Cut more outside this desk, or allow its recipe a slot more (--spare-slots) or more music lost than 3.0 dB (--keep-loss-to-reach).',
    ],
    [{ hasOtherSlots: true }, scope, `${more} or other slots (freeSlots in the rig).`],
    [
      {},
      guardScope(hz(19000), { pilotAttenuationAtLeastDb: db(12), keepLossAtMostDb: db(2) }),
      'allow its recipe more music lost than 2.0 dB (--keep-loss).',
    ],
    [{ filters: [] }, scope, 'of the 12.0 dB asked. Cut more outside this desk.'],
    [
      { filters: [], hasOtherSlots: true },
      scope,
      'Cut more outside this desk, or allow its recipe other slots (freeSlots in the rig).',
    ],
    [{ isProved: false }, scope, 'as good as was found for this desk: 9.4 dB of the 12.0 dB asked.'],
  ])('says what may still help: %j', (change, on, words) => {
    const finding: WeighedFinding = {
      kind: 'as-recipe',
      weight: 'risk',
      pilotDb: db(9.38),
      hasLifts: false,
    };
    expect(told(finding, change, on)).toContain(words);
  });
});

describe('a figure beside its limit', () => {
  it.each([
    { figureDb: 12.3, limitDb: 15.64, mustBe: 'at least', figure: '12.3 dB', limit: '15.6 dB' },
    // To one decimal both would show 15.6, a miss that looks like a hit.
    { figureDb: 15.62, limitDb: 15.64, mustBe: 'at least', figure: '15.62 dB', limit: '15.64 dB' },
    { figureDb: 1.004, limitDb: 1, mustBe: 'at most', figure: '1.004 dB', limit: '1.000 dB' },
    { figureDb: -0, limitDb: 12, mustBe: 'at least', figure: '0.0 dB', limit: '12.0 dB' },
  ] as const)('$figureDb, $mustBe $limitDb', ({ figureDb, limitDb, mustBe, figure, limit }) => {
    expect(besideLimit(figureDb, limitDb, mustBe)).toEqual({ figure, limit });
  });

  it('tells which way the pilot is moved', () => {
    expect(downOrUp(12.3, '12.3 dB')).toBe('12.3 dB down');
    expect(downOrUp(-5.8, '-5.8 dB')).toBe('5.8 dB up');
    expect(downOrUp(-0.01, '0.0 dB')).toBe('0.0 dB down');
  });
});
