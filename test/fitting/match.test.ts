import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Filter } from '../../src/filters/filter.js';
import type { Fit } from '../../src/fitting/fit.js';
import { curveDifference } from '../../src/fitting/match/asked-curve.js';
import { match } from '../../src/fitting/match/match.js';
import { nearest } from '../../src/fitting/nearest/nearest.js';
import { placedFilter } from '../../src/fitting/placement.js';
import type { Desk } from '../../src/model/desk.js';
import type { Intent, IntentsDocument } from '../../src/model/intent.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { makeIntentsRecipe } from '../../src/recipes/make-intents-recipe.js';
import { tellShortcoming } from '../../src/recipes/tell-shortcoming.js';
import { db, hz, q } from '../../src/units/quantity.js';

const read = (path: string) => JSON.parse(readFileSync(new URL(path, import.meta.url), 'utf8'));
const document: IntentsDocument = read('../fixtures/intents.json');

const deskNamed = (id: string) => {
  const desk = makeDesk(read(`../../targets/${id}.json`));
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

describe.each([
  'log-179',
  'octave-6',
  'octave-24',
  'cut-section',
  'graphic-31',
  'four-band',
  'two-legs',
  'r40',
])('the intents fixture on %s', (id) => {
  const desk = deskNamed(id);
  const context = { desk, slots: desk.slots, guard: null, spareSlots: 0 };
  const [matched, plain] = [match.fit(document.intents, context), nearest.fit(document.intents, context)];

  it('serves as many as nearest does, and leaves substitutes where nearest has it', () => {
    const standsIn = ({ type, asked }: (typeof plain.filters)[number]) => type !== asked.type;
    expect(matched.filters).toHaveLength(plain.filters.length);
    expect(matched.filters.filter(standsIn)).toEqual(plain.filters.filter(standsIn));
    expect(new Set(matched.filters.map(({ slot }) => slot)).size).toBe(matched.filters.length);
  });

  it('tells of no greater difference than nearest', () => {
    const toldDb = (fit: Fit) => {
      const recipe = makeIntentsRecipe(document, desk, fit);
      const told = recipe.ok ? recipe.value.mixes[0]?.reason.match(/at most ([\d.]+) dB/) : null;
      return Number(told?.[1]);
    };
    expect(toldDb(match)).toBeLessThanOrEqual(toldDb(nearest));
  });

  it('never turns a cut into a boost, nor a boost into a cut', () => {
    for (const { asked, set } of matched.filters) {
      expect((asked.gainDb ?? 0) * (set.gainDb ?? 0)).toBeGreaterThanOrEqual(0);
    }
  });
});

/** One slot for a bell, with these grids. */
const oneBell = (frequenciesHz: readonly number[], qs: readonly number[], gainsDb: readonly number[]) => {
  const table = (values: readonly number[]) => ({ kind: 'table', values });
  const desk = makeDesk({
    ...read('../../targets/four-band.json'),
    quantisers: { frequency: table(frequenciesHz), q: table(qs), gain: table(gainsDb) },
    slots: [{ id: 'bell', types: { peaking: { frequency: 'frequency', q: 'q', gain: 'gain' } } }],
    realisations: [{ id: 'flat', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null }],
  });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  return desk.value;
};

const bell = (role: string, frequencyHz: number, asQ: number, gainDb: number) =>
  ({ role, type: 'peaking', frequencyHz: hz(frequencyHz), q: q(asQ), gainDb: db(gainDb) }) as const;

describe('a bell without a slot', () => {
  const fitted = (intents: readonly Intent[], desk: Desk) => {
    const context = { desk, slots: desk.slots, guard: null, spareSlots: 0 };
    const { filters, shortcomings } = match.fit(intents, context);
    return { filters, shortcomings, plain: nearest.fit(intents, context).filters };
  };

  it('is merged with one just beside it: no setting of the slot from 7.2 kHz up comes nearer', () => {
    const desk = deskNamed('four-band');
    const intents = [bell('one', 15000, 4, -8), bell('two', 15450, 4, -8)];
    const { filters, plain } = fitted(intents, desk);
    const differenceDb = (filters: readonly Filter[]) =>
      curveDifference(filters, intents, desk.target.realisations).differenceDb;
    const high = desk.slots.find(({ id }) => id === 'high')?.types.get('peaking');
    // The slot's grids, as the target's file has them: 45 frequencies, 25 Qs, 31 gains.
    const at = (from: number, to: number, count: number, i: number) =>
      from * (to / from) ** (i / (count - 1));
    let leastDb = Infinity;
    for (let f = 29; f < 45; f++) {
      for (let width = 0; width < 25; width++) {
        for (let gain = -15; gain <= -6; gain++) {
          const filter = bell('', at(1000, 20000, 45, f), at(0.5, 8, 25, width), gain);
          leastDb = Math.min(leastDb, differenceDb([filter]));
        }
      }
    }
    expect(high?.grids.frequency.count).toBe(45);
    const [matchedDb = Infinity, plainDb = 0] = [filters, plain].map((each) =>
      differenceDb(each.map(({ type, set }) => placedFilter(type, set))),
    );
    // Two bells of 8 dB make 16 dB where they meet, and one alone leaves the other's 8.
    expect(plainDb).toBeGreaterThan(8);
    expect(matchedDb).toBeLessThan(0.6 * plainDb);
    expect(matchedDb.toFixed(1)).toBe(leastDb.toFixed(1));
  });

  it('draws another over more than a third of an octave, half the way and no farther', () => {
    // An octave apart and 2.5 octaves wide each; the middle is 1414 Hz, 600 cents from either.
    const intents = [bell('one', 1000, 0.5, -6), bell('two', 2000, 0.5, -6)];
    const settings = [
      [700, 1000, 1400, 1430, 2000, 2900],
      [0.3, 0.5, 1],
      [-10, -8, -6],
    ] as const;
    const { filters } = fitted(intents, oneBell(...settings));
    expect(filters.map(({ set }) => [set.frequencyHz, set.q])).toEqual([
      [filters[0]?.role === 'one' ? 1400 : 1430, expect.any(Number)],
    ]);
  });

  it.each([
    { what: 'too far away', second: bell('two', 4000, 4, -6) },
    { what: 'a boost', second: bell('two', 1500, 1, 6) },
    { what: 'a pilot cut', second: bell('pilot-cut', 1500, 1, -3) },
  ])('draws nothing where it is $what', ({ second }) => {
    const desk = oneBell([1000, 1120, 1320, 1500, 2000, 4000], [0.3, 1, 4], [-10, -8, -6, -3, 6]);
    for (const { asked, set } of fitted([bell('one', 1000, 1, -8), second], desk).filters) {
      expect(Math.abs(1200 * Math.log2(set.frequencyHz / asked.frequencyHz))).toBeLessThanOrEqual(400);
    }
  });

  it('bends the others by 3 dB at most', () => {
    // A notch without a slot, 60 dB deep at one of the points looked at: every dB there would help.
    const notch = { role: 'whistle', type: 'notch', frequencyHz: hz(20 * 2 ** 6), q: q(8) } as const;
    const desk = oneBell([1000, 1100, 1250], [0.3, 1, 4], [-15, -12, -9, -6, -3, 0]);
    const [placed] = fitted([bell('one', 1000, 1, -3), notch], desk).filters;
    expect(placed?.set.gainDb).toBe(-6);
  });

  it('is told of, with what was done about it', () => {
    const { shortcomings } = fitted(
      [bell('one', 1000, 1, -8), bell('two', 1100, 1, -8)],
      oneBell([1000, 1100], [1], [-15, -8]),
    );
    const told = shortcomings.map((each) => tellShortcoming(each, '', null).message).join();
    expect(told).toMatch(
      /It is left out\. The others are set to come as near as they can to the curve with it in\./,
    );
  });
});

it('a knob that cannot go as far as asked is told to end where it ends, wherever it is set', () => {
  const desk = oneBell([500, 600, 700], [1], [-6, -3]);
  const context = { desk, slots: desk.slots, guard: null, spareSlots: 0 };
  const { filters, shortcomings } = match.fit([bell('one', 710, 0.4, -9)], context);
  const [told] = shortcomings.map((each) => tellShortcoming(each, '', null).message);
  expect(filters).toHaveLength(1);
  expect(told).toContain('its frequency ends at 700 Hz');
  expect(told).toContain('its gain ends at -6 dB');
});

describe('how far a curve lies from what was asked', () => {
  it('is the whole depth of a bell that is not there, at its centre', () => {
    const bell = {
      role: 'bell',
      type: 'peaking',
      frequencyHz: hz(20 * 2 ** 5),
      q: q(2),
      gainDb: db(-9),
    } as const;
    const analogue = { id: 'flat', design: 'analogue', qMeaning: 'cookbook', sampleRateHz: null } as const;
    const difference = curveDifference([], [bell], [analogue]);
    expect(difference.differenceDb).toBeCloseTo(9, 9);
    expect(difference.atHz).toBeCloseTo(640, 6);
    expect(difference.realisation).toBe('flat');
  });

  it('is told in the recipe, beside what nearest would give', () => {
    const recipe = makeIntentsRecipe(document, deskNamed('log-179'), match, [3, 4]);
    expect(recipe.ok && recipe.value.mixes[0]?.reason).toMatch(
      /at most [\d.]+ dB from the curve asked for, at [\d.]+ k?Hz if built as [a-z0-9-]+ \(every knob at its own nearest step: [\d.]+ dB\)/,
    );
  });
});
