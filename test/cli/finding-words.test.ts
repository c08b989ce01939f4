import { describe, expect, it } from 'vitest';
import { besideLimit, downOrUp } from '../../src/cli/check/beside-limit.js';
import { findingWords } from '../../src/cli/check/finding-words.js';
import type { WeighedFinding } from '../../src/live/inspection.js';
import { guardScope } from '../../src/multiplex/guard-scope.js';
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

describe('what is told of a mix as it stands', () => {
  it.each<[WeighedFinding, string]>([
    [
      { kind: 'lifts-pilot', weight: 'risk', ...shelf, liftDb: db(5.83) },
      'slot 4: high shelf at 8 kHz, +6 dB, lifts the pilot by 5.8 dB. Turn it down, or cut more at the pilot.',
    ],
    [
      { kind: 'lifts-pilot', weight: 'notice', ...shelf, liftDb: db(5.83) },
      'note: slot 4: high shelf at 8 kHz, +6 dB, lifts the pilot by 5.8 dB; what cuts there makes up for it.',
    ],
    [
      { kind: 'no-cut-near', weight: 'risk', pilotDb: db(0) },
      'Nothing at all cuts at the pilot. Set its protective filters, as bandwright recipe tells them.',
    ],
    [
      { kind: 'no-cut-near', weight: 'risk', pilotDb: db(6.2) },
      'No bell or notch cuts near the pilot; what else cuts takes 6.2 dB there. Set a cut at the pilot, as bandwright recipe tells it.',
    ],
    [
      { kind: 'cut-is-off', weight: 'risk', ...bell, pilotDb: db(12.3) },
      'slot 2: bell at 18.66 kHz, Q 12, -15 dB, is off. On, the pilot would be 12.3 dB down. Switch it on.',
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
      'slot 2: bell at 18.66 kHz, Q 12, -15 dB, stands 336 Hz (30.9 cents) below the pilot and takes 8.0 dB there, where it would take 14.5 dB centred on it. Move it nearer or widen it.',
    ],
    [
      { kind: 'cut-too-weak', weight: 'risk', ...bell, pilotDb: db(5) },
      'slot 2: bell at 18.66 kHz, Q 12, -15 dB, takes 5.0 dB at the pilot. Deepen or widen it, or lower a high cut.',
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
      'note: no low cut is on; one stands in slot low, off. bandwright recipe tells one.',
    ],
    [{ kind: 'no-high-cut', weight: 'risk', offIn: null }, 'no high cut is on. bandwright recipe tells one.'],
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
  ])('$kind', (finding, told) => {
    expect(findingWords(finding, 'on, bell', scope)).toBe(told);
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
