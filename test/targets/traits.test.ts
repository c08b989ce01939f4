import { describe, expect, it } from 'vitest';
import {
  bellFrequenciesHz,
  bottomOf,
  firstGridOf,
  gridOf,
  offers,
  offersType,
  shipped,
  targetsWith,
  theTargetWith,
  topOf,
  valuesOf,
} from './shipped.js';

const pilotHz = 19000;

const all = [...shipped.values()];

describe('slots and filters', () => {
  it('no high cut at all: shelves at the two ends only, a low cut beside them', () => {
    const target = theTargetWith((each) => !offersType(each, 'lowpass') && offersType(each, 'highpass'));
    const shelves = offers(target).filter(({ type }) => type === 'lowshelf' || type === 'highshelf');
    expect(shelves).toHaveLength(2);
    const reachPilot = offers(target).filter(
      ({ knobs }) => topOf(gridOf(target, knobs.frequency)) >= pilotHz,
    );
    expect(new Set(reachPilot.map(({ slot }) => slot)).size).toBe(1);
  });

  it('a cut section of 12, 18 and 24 dB per octave, Butterworth, beside four bells', () => {
    const target = theTargetWith((each) =>
      offers(each).some(({ knobs }) => typeof knobs.slope === 'string' && knobs.family === 'butterworth'),
    );
    const cuts = offers(target).filter(({ knobs }) => knobs.slope !== undefined);
    expect(cuts.map(({ type }) => type).sort()).toEqual(['highpass', 'lowpass']);
    for (const { knobs } of cuts) expect(valuesOf(gridOf(target, knobs.slope))).toEqual([12, 18, 24]);
    expect(offers(target).filter(({ type }) => type === 'peaking')).toHaveLength(4);
    expect(target.slots).toHaveLength(6);
  });

  it('Linkwitz-Riley cuts of 24 dB per octave beside four bells', () => {
    const target = theTargetWith((each) =>
      offers(each).some(({ knobs }) => knobs.family === 'linkwitz-riley'),
    );
    const cuts = offers(target).filter(({ knobs }) => knobs.slope !== undefined);
    expect(cuts.map(({ type, knobs }) => [type, knobs.slope, knobs.family])).toEqual([
      ['highpass', 24, 'linkwitz-riley'],
      ['lowpass', 24, 'linkwitz-riley'],
    ]);
    expect(offers(target).filter(({ type }) => type === 'peaking')).toHaveLength(4);
  });

  it('cuts with a resonance knob that can raise the corner, and can be flat', () => {
    const target = theTargetWith((each) =>
      offers(each).some(({ type, knobs }) => type === 'lowpass' && typeof knobs.q === 'string'),
    );
    const qs = valuesOf(gridOf(target, offers(target).find(({ type }) => type === 'lowpass')?.knobs.q));
    expect(qs.filter((q) => Math.abs(q - Math.SQRT1_2) < 1e-9)).toHaveLength(1);
    expect(qs.at(-1)).toBeGreaterThan(1);
  });

  it('cuts of a fixed Q instead of a slope', () => {
    expect(
      targetsWith((each) =>
        offers(each).some(({ type, knobs }) => type === 'lowpass' && knobs.q === Math.SQRT1_2),
      ),
    ).not.toEqual([]);
  });

  it('a low cut fixed at 80 Hz, and bells that end below the pilot', () => {
    const target = theTargetWith((each) =>
      offers(each).some(({ type, knobs }) => type === 'highpass' && knobs.frequency === 80),
    );
    expect(Math.max(...bellFrequenciesHz(target))).toBe(18000);
    expect(offersType(target, 'notch')).toBe(false);
    expect(bellFrequenciesHz(target).length).toBeLessThan(20);
  });

  it('every filter type there is', () => {
    const types = new Set(all.flatMap((target) => offers(target).map(({ type }) => type)));
    expect(types.size).toBe(8);
  });

  it('a gain of 6 dB either way, with spare bells to stack', () => {
    const target = theTargetWith((each) => topOf(firstGridOf(each, 'gain')) <= 6);
    expect(bottomOf(firstGridOf(target, 'gain'))).toBe(-6);
    expect(offers(target).filter(({ type }) => type === 'peaking').length).toBeGreaterThan(4);
  });

  it('a gain that reaches further down than up', () => {
    expect(
      targetsWith((each) => -bottomOf(firstGridOf(each, 'gain')) > topOf(firstGridOf(each, 'gain')) + 1),
    ).not.toEqual([]);
  });
});

describe('outputs, realisations and OSC', () => {
  it('linked and unlinked stereo legs', () => {
    expect(new Set(all.map(({ outputs }) => outputs.stereo))).toEqual(
      new Set(['legs-share', 'legs-separate']),
    );
  });

  it('one known realisation at 96 kHz, with frequencies beyond 20 kHz', () => {
    const target = theTargetWith(({ realisations }) => realisations.length === 1);
    expect(target.realisations[0]?.sampleRateHz).toBe(96000);
    expect(Math.max(...bellFrequenciesHz(target))).toBeGreaterThan(20000);
  });

  it('every design, every meaning of Q and three sample rates', () => {
    const realisations = all.flatMap((target) => target.realisations);
    expect(new Set(realisations.map(({ design }) => design)).size).toBe(4);
    expect(new Set(realisations.map(({ qMeaning }) => qMeaning)).size).toBe(3);
    expect(new Set(realisations.map(({ sampleRateHz }) => sampleRateHz))).toEqual(
      new Set([null, 44100, 48000, 96000]),
    );
  });

  it('OSC on most, by every transport and every encoding, and some desks without', () => {
    const reached = all.flatMap(({ osc }) => (osc ? [osc] : []));
    expect(reached.length / all.length).toBeGreaterThan(0.6);
    expect(reached.length).toBeLessThan(all.length);
    const kinds = reached.flatMap(({ transports }) => transports.map(({ kind }) => kind));
    expect(new Set(kinds)).toEqual(new Set(['udp', 'tcp-slip', 'tcp-length-prefix']));
    const travels = reached.flatMap(({ encodings }) =>
      Object.values(encodings).map((encoding) => encoding.as),
    );
    expect(new Set(travels)).toEqual(new Set(['engineering', 'index', 'fraction', 'text']));
  });

  it('every way of asking for a value, none of them on more than half of the desks', () => {
    const ways = all.flatMap(({ osc }) =>
      osc ? [typeof osc.read === 'string' ? osc.read : osc.read.by] : [],
    );
    expect(new Set(ways)).toEqual(new Set(['same-address-without-arguments', 'address', 'argument', 'none']));
    for (const way of ways) {
      expect(ways.filter((each) => each === way).length).toBeLessThanOrEqual(ways.length / 2);
    }
  });
});
