import { describe, expect, it } from 'vitest';
import { choiceLines } from '../../src/exporters/text/choice-lines.js';
import type { PlacedFilter, RecipeAlternative, RecipeMix } from '../../src/model/recipe.js';
import { db, hz, q, step } from '../../src/units/quantity.js';
import { recipe } from './fixture.js';

const mix = recipe.mixes[0] as RecipeMix;
const guard = mix.guard as NonNullable<RecipeMix['guard']>;
const pilotCut = mix.filters.find(({ role }) => role === 'pilot-cut') as PlacedFilter;

const worst = (pilotDb: number, lossDb: number) => ({
  ...guard.worst,
  pilotAttenuationDb: db(pilotDb),
  keepLossDb: db(lossDb),
});

/** The mix beside what nearest gives, and another setting. */
const beside = (
  filters: readonly PlacedFilter[],
  pilotDb: number,
  lossDb: number,
  alternative: RecipeAlternative | null = null,
  columns = 80,
): readonly string[] =>
  choiceLines({ ...mix, nearest: { filters, worst: worst(pilotDb, lossDb) }, alternative }, columns);

const flat = (lines: readonly string[]): string => lines.join(' ').replace(/\s+/g, ' ').trim();

const otherStep: PlacedFilter = {
  ...pilotCut,
  set: { ...pilotCut.set, frequencyHz: hz(18665), q: q(10) },
  steps: {
    ...pilotCut.steps,
    frequency: { index: step(174), of: 177, display: '18.67 kHz', fromBottom: 174, fromTop: 2 },
  },
};

const others = mix.filters.filter(({ role }) => role !== 'pilot-cut');
const stronger: RecipeAlternative = {
  kind: 'stronger',
  withinDb: db(3),
  isHadByLimit: true,
  filters: [...others, otherStep],
  worst: worst(28.04, 2.9412),
};

describe('the choice beside what else could be had', () => {
  it('says nothing where nothing moved and nothing else is to be had', () => {
    expect(beside(mix.filters, 21.44, 0.9)).toEqual([]);
  });

  it('tells figures by hand and chosen, and the knob that moved, from where to where', () => {
    const told = flat(beside([...others, otherStep], 15.2, 1.21));
    expect(told).toContain('by hand 15.2 1.2');
    expect(told).toContain(`chosen 21.4 0.9 bell 18.67 kHz -> ${pilotCut.steps.frequency?.display}`);
  });

  it('tells a filter that was added, and one that was left out', () => {
    expect(flat(beside(others, 12, 0.2))).toContain('a bell added');
    expect(flat(beside([...mix.filters, { ...otherStep, role: 'pilot-cut-2' }], 12, 0.2))).toContain(
      'bell in 3 left out',
    );
  });

  it('tells the setting a person may prefer, and how to have it: the limit to the hundredth up', () => {
    const told = flat(beside(mix.filters, 21.44, 0.9, stronger));
    expect(told).toContain('chosen 21.4 0.9 the same');
    expect(told).toMatch(/stronger 28\.0 2\.9 bell .* -> 18\.67 kHz.*; to have it: --keep-loss 2\.95/);
  });

  it('never tells a negative loss', () => {
    expect(flat(beside(others, 12, -0.2))).toContain('by hand 12.0 0.0');
  });

  it.each([40, 59, 60, 80])('stays within %i columns, and an option keeps its value beside it', (columns) => {
    const lines = beside([otherStep], 15, 1, stronger, columns);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(columns);
    expect(lines.join('\n')).toContain('--keep-loss 2.95');
  });

  it.each([40, 80])('aligns figures to the right within %i columns', (columns) => {
    const rows = beside(others, 8.2, 11.5, null, columns).filter((line) => /by hand|chosen/.test(line));
    const ends = rows.map((line) => line.match(/^ *(by hand|chosen) +[\d.]+ +[\d.]+/)?.[0].length);
    expect(new Set(ends).size).toBe(1);
  });
});
