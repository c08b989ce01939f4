import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeIntentsRecipe } from '../../src/fitting/make-intents-recipe.js';
import { curveDifference } from '../../src/fitting/match/curve-difference.js';
import { match } from '../../src/fitting/match/match.js';
import { nearest } from '../../src/fitting/nearest.js';
import { placedFilter } from '../../src/fitting/placement.js';
import type { IntentsDocument } from '../../src/model/intent.js';
import { makeDesk } from '../../src/model/make-desk.js';
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

  it('uses the slots and types that nearest uses', () => {
    const placeOf = ({ slot, role, type }: (typeof plain.bands)[number]) => `${slot} ${role} ${type}`;
    expect(matched.bands.map(placeOf)).toEqual(plain.bands.map(placeOf));
  });

  it('is no farther from the curve than nearest, but for a tenth of a dB or two per cent', () => {
    const follows = ({ type, asked }: (typeof plain.bands)[number]) => type === asked.type;
    const asked = plain.bands.filter(follows).map((band) => band.asked);
    const differenceDb = (bands: typeof plain.bands) =>
      curveDifference(
        bands.filter(follows).map(({ type, set }) => placedFilter(type, set)),
        asked,
        desk.target.realisations,
      ).differenceDb;
    const plainDb = differenceDb(plain.bands);
    expect(differenceDb(matched.bands)).toBeLessThanOrEqual(plainDb + Math.max(0.1, 0.02 * plainDb));
  });

  it('never turns a cut into a boost, nor a boost into a cut', () => {
    for (const { asked, set } of matched.bands) {
      expect((asked.gainDb ?? 0) * (set.gainDb ?? 0)).toBeGreaterThanOrEqual(0);
    }
  });
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
