import { describe, expect, it } from 'vitest';
import { pilotReach, placesNear } from '../../src/analysis/reach/pilot-reach.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import { makeDesk } from '../../src/model/make-desk.js';
import type { Slot, Target } from '../../src/model/target.js';
import { db, hz } from '../../src/units/quantity.js';

const ratesHz = [48000, 96000];

const deskOf = (slots: readonly Slot[], quantisers: Target['quantisers'], rates = ratesHz) => {
  const desk = makeDesk({
    format: 'bandwright-target/1',
    id: 'test-desk',
    title: 'A desk for tests',
    provenance: 'invented',
    outputs: { count: 8, stereo: 'legs-share' },
    quantisers: { log: { kind: 'geometric', from: 23, to: 20900, count: 183 }, ...quantisers },
    slots,
    realisations: rates.map((sampleRateHz) => ({
      id: `cookbook-${sampleRateHz}`,
      design: 'cookbook',
      qMeaning: 'cookbook',
      sampleRateHz: hz(sampleRateHz),
    })),
    display: {},
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

const scope = guardScope(hz(19000), { keepLossAtMostDb: db(1) });

/** A W3C cookbook bell, by plain complex arithmetic: what it takes at a frequency, in dB. */
const bellTakes = (rateHz: number, frequencyHz: number, q: number, gainDb: number, atHz: number): number => {
  const A = 10 ** (gainDb / 40);
  const w0 = (2 * Math.PI * frequencyHz) / rateHz;
  const alpha = Math.sin(w0) / (2 * q);
  const w = (2 * Math.PI * atHz) / rateHz;
  const power = ([c0, c1, c2]: readonly [number, number, number]): number =>
    (c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w)) ** 2 + (c1 * Math.sin(w) + c2 * Math.sin(2 * w)) ** 2;
  const c1 = -2 * Math.cos(w0);
  return (
    -10 * Math.log10(power([1 + alpha * A, c1, 1 - alpha * A]) / power([1 + alpha / A, c1, 1 - alpha / A]))
  );
};

/** A bell that misses the window takes least at one of its edges. */
const takesInWindow = (rateHz: number, frequencyHz: number, q: number, gainDb: number): number =>
  Math.min(...[18900, 19100].map((atHz) => bellTakes(rateHz, frequencyHz, q, gainDb, atHz)));

/** 23 Hz to 20.9 kHz in 182 equal ratios: the points beside 19 kHz, by hand. */
const [below, above] = [23 * (20_900 / 23) ** (179 / 182), 23 * (20_900 / 23) ** (180 / 182)];

const qs = [0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 10];
const gains = [-15, -10, -5, 0, 5];
const bell = { id: '1', types: { peaking: { frequency: 'log', q: 'q', gain: 'gain' } } };
const bells = deskOf([bell], { q: { kind: 'table', values: qs }, gain: { kind: 'table', values: gains } });

describe('183 logarithmic points from 23 Hz to 20.9 kHz', () => {
  const reach = pilotReach(bells, scope);

  it('come no nearer to 19 kHz than 18.68 and 19.39 kHz (common practice, no source; by hand)', () => {
    expect(reach.below?.frequencyHz).toBeCloseTo(below, 6);
    expect(reach.above?.frequencyHz).toBeCloseTo(above, 6);
    expect(reach.at).toBeNull();
    expect(reach.nearest).toEqual(reach.below);
    expect(reach.above?.offsetHz).toBeCloseTo(above - 19000, 6);
    expect(reach.above?.offsetCents).toBeCloseTo(1200 * Math.log2(above / 19000), 6);
    expect(reach.above?.offsetFraction).toBeCloseTo(above / 19000 - 1, 9);
  });

  it('are cut by the narrowest bell, all the way down, alike in every way of building', () => {
    const { narrowest } = reach;
    expect(narrowest).toMatchObject({ type: 'peaking', set: { q: 10, gainDb: -15 } });
    expect(narrowest?.set.frequencyHz).toBeCloseTo(below, 6);
    narrowest?.byRealisation.forEach(({ id, pilotAttenuationDb, keepLossDb }, way) => {
      const rateHz = ratesHz[way] ?? 0;
      expect(id).toBe(`cookbook-${rateHz}`);
      expect(pilotAttenuationDb).toBeCloseTo(takesInWindow(rateHz, below, 10, -15), 9);
      expect(keepLossDb).toBeCloseTo(bellTakes(rateHz, below, 10, -15, 12000), 9);
    });
    expect(narrowest?.byRealisation).toHaveLength(2);
  });
});

describe('the best setting', () => {
  /** Every setting of the bell beside the pilot, judged in its worst way; by the arithmetic above. */
  const all = [below, above].flatMap((frequencyHz) =>
    qs.flatMap((q) =>
      gains
        .filter((gainDb) => gainDb < 0)
        .map((gainDb) => ({
          set: [frequencyHz, q, gainDb] as const,
          leastDb: Math.min(...ratesHz.map((rateHz) => takesInWindow(rateHz, frequencyHz, q, gainDb))),
          lossDb: Math.max(...ratesHz.map((rateHz) => bellTakes(rateHz, frequencyHz, q, gainDb, 12000))),
        })),
    ),
  );

  it.each([0.25, 0.5, 1, 2, 4])('takes most in its worst way for at most %f dB of the music', (limitDb) => {
    const { best, keepLossAtMostDb } = pilotReach(bells, { ...scope, keepLossAtMostDb: db(limitDb) });
    const [expected] = all.filter(({ lossDb }) => lossDb <= limitDb).sort((a, b) => b.leastDb - a.leastDb);
    expect(keepLossAtMostDb).toBe(limitDb);
    expect(best?.leastDb).toBeCloseTo(expected?.leastDb ?? Number.NaN, 9);
    expect(best?.keepLossDb).toBeCloseTo(expected?.lossDb ?? Number.NaN, 9);
    const { frequencyHz, q, gainDb } = best?.set ?? {};
    expect([q, gainDb]).toEqual(expected?.set.slice(1));
    expect(frequencyHz).toBeCloseTo(expected?.set[0] ?? 0, 6);
  });

  it('is one and the same in every way of building: least and most are its own', () => {
    const { best } = pilotReach(bells, scope);
    const { frequencyHz = 0, q = 0, gainDb = 0 } = best?.set ?? {};
    const taken = ratesHz.map((rateHz) => takesInWindow(rateHz, frequencyHz, q, gainDb));
    expect(best?.byRealisation.map((each) => each.pilotAttenuationDb)).toEqual(
      taken.map((each) => expect.closeTo(each, 9)),
    );
    expect(best?.leastDb).toBeCloseTo(Math.min(...taken), 9);
    expect(best?.mostDb).toBeCloseTo(Math.max(...taken), 9);
    // Judged by itself the slower way, whose bells are narrower, would have a wider one: a best for each way is more
    // than one setting can give.
    const alone = pilotReach(deskOf([bell], bells.target.quantisers, [48000]), scope);
    expect(alone.best?.leastDb).toBeGreaterThan(best?.leastDb ?? Infinity);
  });

  it('is none where nothing keeps the limit, or there is neither bell nor notch', () => {
    expect(pilotReach(bells, { ...scope, keepLossAtMostDb: db(0) })).toMatchObject({ best: null });
    const cuts = deskOf([{ id: '1', types: { lowpass: { frequency: 'log', slope: 12 } } }], {});
    const { below, at, above, nearest, best, narrowest } = pilotReach(cuts, scope);
    expect([below, at, above, nearest, best, narrowest]).toEqual(Array(6).fill(null));
  });
});

describe('the places around the pilot', () => {
  const gridOf = (quantiser: Target['quantisers'][string]) =>
    deskOf([{ id: '1', types: { peaking: { frequency: 'own', q: 'q', gain: 'gain' } } }], {
      own: quantiser,
      q: { kind: 'table', values: qs },
      gain: { kind: 'table', values: gains },
    });

  it('reach as far as two of them lie to either side, and hold all between', () => {
    // By hand, on a table: two below at -1000 and -3000 Hz, the pilot, one above; what lies further is not shown.
    const values = [12000, 16000, 18000, 19000, 20000];
    const { reachHz, offsetsHz, areTooMany } = placesNear(gridOf({ kind: 'table', values }), scope);
    expect([offsetsHz, areTooMany]).toEqual([[-3000, -1000, 0, 1000], false]);
    expect(reachHz).toBeGreaterThan(3000);
    expect(reachHz).toBeLessThan(7000);
  });

  it('reach beyond the window where the grid is finer, and are all there, or told to be too many', () => {
    // Every 10 Hz from 18 to 20 kHz: within 140 Hz to either side there are 29.
    const tens = { kind: 'linear', from: 18000, to: 20000, step: 10 } as const;
    const found = placesNear(gridOf(tens), scope);
    expect(found.reachHz).toBeGreaterThan(100);
    expect(found.offsetsHz).toEqual(
      Array.from({ length: 201 }, (_, index) => 10 * index - 1000).filter(
        (offsetHz) => Math.abs(offsetHz) <= found.reachHz,
      ),
    );
    // Every 0.1 Hz there are more than a thousand in the window alone.
    const fine = placesNear(gridOf({ kind: 'linear', from: 18000, to: 20000, step: 0.1 }), scope);
    expect([fine.offsetsHz, fine.areTooMany]).toEqual([[], true]);
  });

  it('are none where the desk has neither bell nor notch', () => {
    const shelves = deskOf([{ id: '1', types: { highshelf: { frequency: 'log', gain: 'gain' } } }], {
      gain: { kind: 'table', values: gains },
    });
    expect(placesNear(shelves, scope)).toMatchObject({ offsetsHz: [], areTooMany: false });
  });
});
