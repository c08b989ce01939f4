import { describe, expect, it } from 'vitest';
import { shortfallLines } from '../../src/cli/words/shortfall.js';
import type { Guard, MissingFilter, RecipeMix } from '../../src/model/recipe.js';
import { db } from '../../src/units/quantity.js';
import { recipeOn, shippedDesk } from '../live/recipe-on.js';

const desk = await shippedDesk('cut-section');
const [heron] = recipeOn(desk).mixes;
if (!heron?.guard) throw new Error('a mix with a guard is needed');
const { guard } = heron;

interface Figures {
  readonly pilotDb?: number;
  readonly lossDb?: number;
  readonly riseDb?: number;
}

/** A mix of which this much is taken, lost and added, where 12, 3 and 0.1 dB are asked. */
const mix = (
  name: string,
  { pilotDb = 14, lossDb = 1, riseDb = 0 }: Figures,
  missing: readonly MissingFilter[] = [],
): RecipeMix => {
  const made: Guard = {
    ...guard,
    limits: {
      pilotAttenuationAtLeastDb: db(12),
      keepLossAtMostDb: db(3),
      keepLossAsAskedDb: db(1),
      riseAtMostDb: db(0.1),
    },
    worst: {
      ...guard.worst,
      pilotAttenuationDb: db(pilotDb),
      keepLossDb: db(lossDb),
      riseDb: db(riseDb),
    },
  };
  return { ...heron, name, guard: made, missing };
};

const lowCut: MissingFilter = { role: 'low-cut', type: 'highpass', why: 'no-place' };
const highCut: MissingFilter = { role: 'high-cut', type: 'lowpass', why: 'left-out' };
const air: MissingFilter = { role: 'air', type: 'highshelf', why: 'no-place' };

describe('what falls short even when set', () => {
  it.each<[string, readonly RecipeMix[], readonly string[]]>([
    ['nothing where all holds', [mix('Heron', {}), mix('Lark', { pilotDb: 12, lossDb: 3, riseDb: 0.1 })], []],
    [
      'the pilot',
      [mix('Heron', { pilotDb: 9.38 })],
      ['Even when set, Heron falls short: pilot 9.4 dB down of the 12.0 dB asked.'],
    ],
    [
      'a pilot that is lifted',
      [mix('Heron', { pilotDb: -2.5 })],
      ['Even when set, Heron falls short: pilot 2.5 dB up of the 12.0 dB asked.'],
    ],
    [
      'a pilot by less than a tenth of a decibel',
      [mix('Heron', { pilotDb: 11.98 })],
      ['Even when set, Heron falls short: pilot 11.98 dB down of the 12.00 dB asked.'],
    ],
    [
      'music and level',
      [mix('Heron', { lossDb: 5, riseDb: 3 })],
      [
        'Even when set, Heron falls short: music loses 5.0 dB, at most 3.0 dB asked; up to 3.0 dB is added, at most 0.1 dB asked.',
      ],
    ],
    [
      'filters that are missing',
      [mix('Heron', {}, [lowCut, highCut, air])],
      [
        'Even when set, Heron falls short: no low cut (no place for it); no high cut (better guarded without); no high shelf "air" (no place for it).',
      ],
    ],
    [
      'the same once for all it is so for',
      [mix('Heron', { pilotDb: 9 }), mix('Egret', {}, [lowCut]), mix('Lark', { pilotDb: 9 }), mix('Owl', {})],
      [
        'Even when set, Heron, Lark fall short: pilot 9.0 dB down of the 12.0 dB asked.',
        'Even when set, Egret falls short: no low cut (no place for it).',
      ],
    ],
    [
      'filters of an intents file, which has no guard',
      [{ ...mix('Monitors', {}, [air]), guard: null }],
      ['Even when set, Monitors falls short: no high shelf "air" (no place for it).'],
    ],
    [
      'a name with control characters, made harmless',
      [mix('He\u001bron', { pilotDb: 9 })],
      ['Even when set, He\\u{1b}ron falls short: pilot 9.0 dB down of the 12.0 dB asked.'],
    ],
  ])('is %s', (_, mixes, told) => {
    expect(shortfallLines(mixes, 1000)).toEqual(told);
  });

  it('fits the window', () => {
    const lines = shortfallLines([mix('Heron', { pilotDb: 9, lossDb: 5 }, [lowCut, highCut])], 60);
    expect(lines.length).toBeGreaterThan(1);
    expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(60);
  });
});
