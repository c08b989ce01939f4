import { describe, expect, it } from 'vitest';
import { planInspection } from '../../src/live/plan-inspection.js';
import { type StandingFilter, standingFilter } from '../../src/live/standing-filter.js';
import type { Desk } from '../../src/model/desk.js';
import type { OscParameter, Target } from '../../src/model/target.js';
import type { OscArgument } from '../../src/osc/message.js';
import { rig, shippedDesk } from './recipe-on.js';

const i = (value: number): OscArgument => ({ type: 'i', value });
const f = (value: number): OscArgument => ({ type: 'f', value: Math.fround(value) });
const s = (value: string): OscArgument => ({ type: 's', value });

/** What is undefined did not answer. */
type Found = Readonly<Partial<Record<OscParameter, OscArgument | undefined>>>;

const [log, stepless, cuts, words] = await Promise.all(
  ['log-201', 'floats', 'cut-section', 'r40'].map((id) => shippedDesk(id)),
);

const without = (parameter: OscParameter) => (target: Target) => {
  if (!target.osc) return target;
  const { [parameter]: _, ...addresses } = target.osc.addresses;
  return { ...target, osc: { ...target.osc, addresses } };
};

const unswitched = await shippedDesk('log-201', without('on'));
const unreached = await shippedDesk('log-201', without('q'));

const standing = (desk: Desk | undefined, slot: string, found: Found): StandingFilter => {
  if (!desk) throw new Error('no desk');
  const plans = planInspection(rig, desk);
  const plan = plans.ok ? plans.value[0]?.plan.slots.find((each) => each.slot.id === slot) : undefined;
  if (!plan) throw new Error(`no slot ${slot}`);
  const answered = Object.entries(found).filter(([, answer]) => answer !== undefined);
  return standingFilter(plan, new Map(answered as [OscParameter, OscArgument][]), desk);
};

// log-201 sends steps as fractions: of 201 geometric points from 20 Hz, 20 * 1000 ** (i / 200); of 64 Qs from 0.4 to
// 12, 0.4 * 30 ** (i / 63); of 61 gains from -15 dB by 0.5 dB. Its types are counted bell 0, low shelf 1, high shelf 2,
// low cut 3, high cut 4.
const at = { on: i(1), type: i(0), frequency: f(198 / 200), q: f(1), gain: f(0) };

describe('what a slot amounts to as it stands', () => {
  it('is the filter at the steps that were read', () => {
    const found = standing(log, '1', at);
    expect(found).toMatchObject({ state: 'acts', filter: { type: 'peaking', gainDb: -15 } });
    const { frequencyHz, q } = found.state === 'acts' ? found.filter : { frequencyHz: 0, q: 0 };
    expect(frequencyHz).toBeCloseTo(20 * 1000 ** 0.99, 6);
    expect(q).toBeCloseTo(12, 9);
  });

  it('is a knob that does not move where the target says, and its family', () => {
    const found = standing(log, '1', { ...at, type: i(4), frequency: f(0) });
    // The bottom stop of its frequency is 20 Hz, and a cut there is a cut all the same.
    expect(found).toEqual({
      state: 'acts',
      filter: { type: 'lowpass', frequencyHz: 20, slopeDbPerOctave: 12, family: 'butterworth' },
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
    expect(standing(log, '1', { ...at, on: i(0) })).toMatchObject({ state: 'off', filter: { gainDb: -15 } });
    expect(standing(log, '1', { on: i(0) })).toEqual({ state: 'off', filter: null });
    expect(standing(log, '1', { ...at, on: i(0), type: i(9) })).toEqual({ state: 'off', filter: null });
    expect(standing(log, '1', { ...at, on: i(0), gain: f(0.5) })).toEqual({ state: 'off', filter: null });
  });

  it('is flat at 0 dB, whatever else is known', () => {
    expect(standing(log, '1', { ...at, gain: f(0.5) })).toEqual({ state: 'flat' });
    expect(standing(log, '1', { type: i(2), gain: f(0.5) })).toEqual({ state: 'flat' });
    expect(standing(stepless, '1', { on: i(1), type: s('High shelf'), gain: f(-0) })).toEqual({
      state: 'flat',
    });
  });

  it('is a cut, not flat, where a gain knob it has no use for stands at 0 dB', () => {
    expect(standing(log, '1', { ...at, type: i(4), gain: f(0.5) }).state).toBe('acts');
  });

  it.each<[string, Desk | undefined, Found, OscParameter, string]>([
    ['a type the target does not know', log, { ...at, type: i(5) }, 'type', 'not-understood'],
    ['a type the slot has not', words, { on: i(1), type: s('Comb') }, 'type', 'not-understood'],
    ['a fraction between two steps', log, { ...at, frequency: f(0.9925) }, 'frequency', 'not-understood'],
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
