import { describe, expect, it } from 'vitest';
import { planInspection } from '../../src/live/inspect/plan-inspection.js';
import { type StandingFilter, standingFilter } from '../../src/live/inspect/standing-filter.js';
import type { Desk } from '../../src/model/desk.js';
import type { OscParameter, Target } from '../../src/model/target.js';
import type { OscArgument } from '../../src/osc/message.js';
import { rig, shippedDesk } from './recipe-on.js';

const i = (value: number): OscArgument => ({ type: 'i', value });
const f = (value: number): OscArgument => ({ type: 'f', value: Math.fround(value) });
const s = (value: string): OscArgument => ({ type: 's', value });

/** What is undefined did not answer. */
type Found = Readonly<Partial<Record<OscParameter, OscArgument | undefined>>>;

const [stepless, cuts, words] = await Promise.all(
  ['floats', 'cut-section', 'r40'].map((id) => shippedDesk(id)),
);

/** A desk that sends the steps of its knobs as fractions of the way from stop to stop. */
const asFractions = (target: Target): Target => {
  if (!target.osc) return target;
  const encoding = { as: 'fraction', type: 'f' } as const;
  const encodings = { ...target.osc.encodings, frequency: encoding, q: encoding, gain: encoding };
  return { ...target, osc: { ...target.osc, encodings } };
};
const log = await shippedDesk('log-179', asFractions);

const without = (parameter: OscParameter) => (target: Target) => {
  if (!target.osc) return target;
  const { [parameter]: _, ...addresses } = target.osc.addresses;
  return { ...target, osc: { ...target.osc, addresses } };
};

const unswitched = await shippedDesk('log-179', (target) => without('on')(asFractions(target)));
const unreached = await shippedDesk('log-179', (target) => without('q')(asFractions(target)));

const standing = (desk: Desk | undefined, slot: string, found: Found): StandingFilter => {
  if (!desk) throw new Error('no desk');
  const plans = planInspection(rig, desk);
  const plan = plans.ok ? plans.value[0]?.plan.slots.find((each) => each.slot.id === slot) : undefined;
  if (!plan) throw new Error(`no slot ${slot}`);
  const answered = Object.entries(found).filter(([, answer]) => answer !== undefined);
  return standingFilter(plan, new Map(answered as [OscParameter, OscArgument][]), desk);
};

// Fractions of 179 geometric points from 26 Hz, 26 * (21700 / 26) ** (i / 178); of 58 Qs from 0.33 to 10.6; of 35 gains
// from -16.5 dB by 0.75 dB, of which 0 dB is the 23rd. Types are counted low cut 0, low shelf 1, bell 2, high shelf 3,
// high cut 4.
const at = { on: i(1), type: i(2), frequency: f(174 / 178), q: f(1), gain: f(0) };
const flat = f(22 / 34);

describe('what a slot amounts to as it stands', () => {
  it('is the filter at the steps that were read', () => {
    const found = standing(log, '1', at);
    expect(found).toMatchObject({ state: 'acts', filter: { type: 'peaking', gainDb: -16.5 } });
    const { frequencyHz, q } = found.state === 'acts' ? found.filter : { frequencyHz: 0, q: 0 };
    expect(frequencyHz).toBeCloseTo(26 * (21_700 / 26) ** (174 / 178), 2);
    expect(q).toBeCloseTo(10.6, 9);
  });

  it('is a knob that does not move where the target says, and its family', () => {
    const found = standing(log, '1', { ...at, type: i(4), frequency: f(0) });
    // The bottom stop of its frequency is 26 Hz, and a cut there is a cut all the same.
    expect(found).toEqual({
      state: 'acts',
      filter: { type: 'lowpass', frequencyHz: 26, slopeDbPerOctave: 12, family: 'butterworth' },
    });
  });

  it('is the only type a slot can be', () => {
    expect(standing(cuts, 'high', { on: i(1), frequency: f(1), slope: i(2) })).toEqual({
      state: 'acts',
      filter: { type: 'lowpass', frequencyHz: 20000, slopeDbPerOctave: 24, family: 'butterworth' },
    });
  });

  it('is a number in its own unit as it was read, beyond the grid too', () => {
    // The gains of cut-section go to -15 dB by 0.5 dB, and travel as decibels.
    const found = standing(cuts, '1', { on: i(1), frequency: f(0), q: f(0), gain: f(-17.25) });
    expect(found).toMatchObject({ state: 'acts', filter: { gainDb: -17.25, frequencyHz: 20 } });
    const between = standing(cuts, '1', { on: i(1), frequency: f(0), q: f(0), gain: f(-0.25) });
    expect(between).toMatchObject({ state: 'acts', filter: { gainDb: -0.25 } });
  });

  it('is taken to be on where OSC reaches no switch', () => {
    const { on, ...rest } = at;
    expect(standing(unswitched, '1', rest).state).toBe('acts');
  });

  it('is off, whatever else is known, and what it would be where that is', () => {
    expect(standing(log, '1', { ...at, on: i(0) })).toMatchObject({
      state: 'off',
      filter: { gainDb: -16.5 },
    });
    expect(standing(log, '1', { on: i(0) })).toEqual({ state: 'off', filter: null });
    expect(standing(log, '1', { ...at, on: i(0), type: i(9) })).toEqual({ state: 'off', filter: null });
    expect(standing(log, '1', { ...at, on: i(0), gain: flat })).toEqual({ state: 'off', filter: null });
  });

  it('is flat at 0 dB, whatever else is known', () => {
    expect(standing(log, '1', { ...at, gain: flat })).toEqual({ state: 'flat' });
    expect(standing(log, '1', { type: i(3), gain: flat })).toEqual({ state: 'flat' });
    expect(standing(stepless, '1', { on: i(1), type: s('High shelf'), gain: f(-0) })).toEqual({
      state: 'flat',
    });
  });

  it('is a cut, not flat, where a gain knob it has no use for stands at 0 dB', () => {
    expect(standing(log, '1', { ...at, type: i(4), gain: flat }).state).toBe('acts');
  });

  it.each<[string, Desk | undefined, Found, OscParameter, string]>([
    ['a type the target does not know', log, { ...at, type: i(5) }, 'type', 'not-understood'],
    ['a type the slot has not', words, { on: i(1), type: s('Comb') }, 'type', 'not-understood'],
    [
      'a fraction between two steps',
      log,
      { ...at, frequency: f(174.5 / 178) },
      'frequency',
      'not-understood',
    ],
    ['a fraction beyond the stop', log, { ...at, gain: f(1.25) }, 'gain', 'not-understood'],
    ['a switch half-way', log, { ...at, on: i(2) }, 'on', 'not-understood'],
    ['no answer of a knob', log, { ...at, gain: undefined }, 'gain', 'unread'],
    ['no answer of the switch', log, { ...at, on: undefined }, 'on', 'unread'],
    ['no answer of the type', log, { ...at, type: undefined }, 'type', 'unread'],
    ['a knob that OSC does not reach', unreached, at, 'q', 'unreached'],
    [
      'a frequency its sample rates do not carry',
      stepless,
      { on: i(1), type: s('Notch'), frequency: f(24000), q: f(1) },
      'frequency',
      'not-buildable',
    ],
    [
      'no frequency at all',
      stepless,
      { on: i(1), type: s('Notch'), frequency: f(0), q: f(1) },
      'frequency',
      'not-buildable',
    ],
    [
      'a slope no filter has',
      stepless,
      { on: i(1), type: s('High cut'), frequency: f(15000), slope: f(13) },
      'slope',
      'not-buildable',
    ],
    [
      'a gain beyond all sense',
      stepless,
      { on: i(1), type: s('Bell'), frequency: f(15000), q: f(1), gain: f(1e30) },
      'gain',
      'not-buildable',
    ],
  ])('is not known, and no guess: %s', (_, desk, found, parameter, why) => {
    const told = Object.fromEntries(Object.entries(found).filter(([, value]) => value !== undefined));
    expect(standing(desk, '1', told)).toEqual({ state: 'not-known', unclear: [{ parameter, why }] });
  });
});
