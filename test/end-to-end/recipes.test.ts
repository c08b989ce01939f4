import { beforeAll, describe, expect, it } from 'vitest';
import { comparable, expectedCells } from './recipes/expected-cells.js';
import { expectedValues, reachedAddresses } from './recipes/expected-osc.js';
import { guardFigures } from './recipes/figures.js';
import { gridTests, isOnGrid, stepOnGeometric } from './recipes/grids.js';
import { type Matrix, type Recipe, rigs, runMatrix, searched, searchedTwice } from './recipes/matrix.js';
import {
  bundleMessages,
  csvRecords,
  oscLine,
  schemaFaults,
  shown,
  streamMessages,
  xmlDifferences,
  xmlRoot,
} from './recipes/readers.js';
import type { FilterJson } from './recipes/shapes.js';
import { blocksOf, columnsOf, dialFaults } from './recipes/text-faults.js';
import { levelsDb } from './recipes/web-audio.js';

let matrix: Matrix;

beforeAll(async () => {
  matrix = await runMatrix();
});

/** Says of every recipe what is wrong with it; nothing is, where all is well. */
const faultsOf = (
  recipes: readonly Recipe[],
  faults: (recipe: Recipe) => readonly string[],
): readonly string[] =>
  recipes.flatMap((recipe) =>
    faults(recipe).map((fault) => `${recipe.rig} on ${recipe.target.id} by ${recipe.fit}: ${fault}`),
  );

const textOf = ({ files }: Recipe, name: string): string => {
  const file = files[name];
  if (!file) throw new Error(`no ${name} came out`);
  return file.toString('utf8');
};

const bandsOf = ({ json }: Recipe): readonly FilterJson[] => json.mixes.flatMap(({ filters }) => filters);

const withOsc = (): readonly Recipe[] => matrix.recipes.filter(({ target }) => target.osc);

describe('every rig on every shipped target', () => {
  it('comes out in every format, or is refused because of what the target has not', () => {
    expect(matrix.targets.length).toBeGreaterThanOrEqual(14);
    expect(matrix.recipes.length + matrix.refusals.length).toBe(
      matrix.targets.length * rigs.length + searched.length,
    );
    for (const { id } of matrix.targets) {
      const made = matrix.recipes.filter(({ target }) => target.id === id);
      expect(new Set(made.map(({ rig }) => rig)).size, id).toBeGreaterThanOrEqual(2);
    }
    const names = ['recipe.csv', 'recipe.json', 'recipe.txt', 'recipe.xml'];
    const oscNames = ['recipe-bundle.osc', 'recipe-osc.txt', 'recipe-packets.osc'];
    for (const { target, files } of matrix.recipes) {
      expect(Object.keys(files).sort()).toEqual([...(target.osc ? oscNames : []), ...names].sort());
    }
  });

  it('ends with 0 where all holds as asked, with 1 where anything falls short', () => {
    for (const { json, run } of matrix.recipes) {
      const fallsShort =
        json.problems.length > 0 || json.mixes.some(({ guard }) => guard?.verdict === 'falls-short');
      expect(run.exitCode).toBe(fallsShort ? 1 : 0);
      expect(run.stdout.length).toBe(0);
    }
  });

  it('is refused with 3, its place and nothing left behind, where outputs or slots are missing', () => {
    expect(matrix.refusals.length).toBeGreaterThan(0);
    for (const { rig, target, run, left } of matrix.refusals) {
      expect(rig).toBe('rig-24-mixes.json');
      const lacksOutputs = target.outputs.count < 47;
      const slots = target.slots.map(({ id }) => id);
      const lacksSlots = ['1', '2', '5', '6'].some((id) => !slots.includes(id));
      expect(lacksOutputs || lacksSlots, target.id).toBe(true);
      expect(run.stderr.includes('[output-unknown]')).toBe(lacksOutputs);
      expect(run.stderr.includes('[slot-unknown]')).toBe(lacksSlots);
      expect(run.stderr).toMatch(/rig-24-mixes\.json\s+mixes\[\d+\]\.(outputs|freeSlots)\[\d\]/);
      expect([run.exitCode, left]).toEqual([3, []]);
    }
  });

  it('is the same to the byte when it is made again', () => {
    const twice = matrix.recipes.filter(({ again }) => again);
    expect(twice.length).toBe(matrix.targets.length + searchedTwice.length);
    for (const { files, again } of twice) {
      expect(Object.keys(again ?? {})).toEqual(Object.keys(files));
      for (const [name, bytes] of Object.entries(files))
        expect(again?.[name]?.equals(bytes), name).toBe(true);
    }
  });
});

describe('what comes out', () => {
  it('JSON is what its published schema says', () => {
    expect(faultsOf(matrix.recipes, ({ json }) => schemaFaults(json))).toEqual([]);
  });

  it('XML holds the same names and values as JSON', () => {
    const faults = (recipe: Recipe) => xmlDifferences(xmlRoot(textOf(recipe, 'recipe.xml')), recipe.json);
    expect(faultsOf(matrix.recipes, faults)).toEqual([]);
  });

  it('CSV has a row a filter, and one for each mix left alone, with the numbers of JSON', () => {
    for (const recipe of matrix.recipes) {
      const [header = [], ...rows] = csvRecords(textOf(recipe, 'recipe.csv'));
      expect(new Set(header).size).toBe(header.length);
      expect(new Set(rows.map((row) => row.length))).toEqual(new Set([header.length]));
      const cells = rows.map((row) =>
        Object.fromEntries(header.map((name, i) => [name, comparable(row[i] ?? '')])),
      );
      expect(cells).toMatchObject(expectedCells(recipe.json));
    }
  });

  it('text is no wider than 80 columns and has no controls', () => {
    for (const recipe of matrix.recipes) {
      const lines = textOf(recipe, 'recipe.txt').split('\n');
      expect(Math.max(...lines.map(columnsOf))).toBeLessThanOrEqual(80);
      expect(lines.join('')).not.toMatch(/\p{Cc}/u);
    }
  });

  it('text tells every mix to dial, with each slot and the frequency it shows', () => {
    expect(faultsOf(matrix.recipes, dialFaults)).toEqual([]);
  });

  it('text tells every mix of a digital or wired link to be left alone, and why', () => {
    let told = 0;
    for (const recipe of matrix.recipes) {
      for (const mix of recipe.json.mixes.filter(({ link }) => link !== 'fm-stereo')) {
        const block = blocksOf(recipe)
          .find((each) => each.includes(mix.name))
          ?.replace(/\s+/g, ' ');
        expect(mix).toMatchObject({ treatment: 'leave-alone', filters: [], guard: null });
        expect(mix.reason).toContain(mix.link);
        expect(block).toContain(`LEAVE ALONE: ${mix.reason}`);
        expect(block).toContain(`${mix.outputs.join('/')} ${mix.name}`);
        told++;
      }
    }
    expect(told).toBeGreaterThan(2 * matrix.targets.length - 1);
  });
});

describe('OSC', () => {
  const linesOf = (recipe: Recipe) => textOf(recipe, 'recipe-osc.txt').trimEnd().split('\n').map(oscLine);

  it('packets and bundle, as osc-min reads them, say what the readable lines say', () => {
    expect(withOsc().length).toBeGreaterThan(20);
    for (const recipe of withOsc()) {
      const lines = linesOf(recipe);
      expect(lines.length).toBeGreaterThan(0);
      expect(streamMessages(recipe.files['recipe-packets.osc'] as Buffer).map(shown)).toEqual(lines);
      expect(bundleMessages(recipe.files['recipe-bundle.osc'] as Buffer).map(shown)).toEqual(lines);
    }
  });

  it('sets the values of the recipe, and touches no output of a mix left alone', () => {
    for (const recipe of withOsc()) {
      const lines = linesOf(recipe);
      const reached = reachedAddresses(recipe);
      expect(lines.filter(({ address }) => !reached.has(address))).toEqual([]);
      const sent = new Map(lines.map(({ address, values }) => [address, values[0]]));
      const wanted = expectedValues(recipe);
      expect(wanted.size).toBeGreaterThan(0);
      for (const [address, value] of wanted) {
        if (typeof value === 'string') expect(sent.get(address), address).toBe(value);
        // A 32-bit float keeps 24 bits.
        else
          expect(Math.abs(Number(sent.get(address)) - value), address).toBeLessThanOrEqual(
            Math.abs(value) * 2 ** -24,
          );
      }
    }
  });

  it('of a target that does not tell it is refused, all formats or none', () => {
    expect(matrix.silent.length).toBe(4 * matrix.targets.filter(({ osc }) => !osc).length);
    expect(matrix.silent.length).toBeGreaterThan(0);
    for (const { target, run, left } of matrix.silent) {
      expect(run.stderr.replace(/\s+/g, ' ')).toContain(`"${target.id}" does not say how OSC reaches it.`);
      expect(run.stderr).toContain('[osc-missing]');
      expect([run.exitCode, left]).toEqual([3, []]);
    }
  });
});

describe('every frequency that is set', () => {
  const offer = ({ target }: Recipe, { slot, type }: FilterJson) =>
    target.slots.find(({ id }) => id === slot)?.types[type]?.frequency;

  it('lies on the grid of its knob', () => {
    const kinds = new Set<string>();
    for (const recipe of matrix.recipes) {
      for (const placed of bandsOf(recipe)) {
        const reference = offer(recipe, placed);
        if (reference === undefined) throw new Error(`${recipe.target.id} has no such slot`);
        const grids = recipe.target.quantisers;
        expect(
          isOnGrid(placed.set.frequencyHz, reference, grids),
          `${recipe.target.id} ${placed.set.frequencyHz}`,
        ).toBe(true);
        if (typeof reference === 'string') kinds.add(grids[reference]?.kind ?? '');
      }
    }
    expect([...kinds].sort()).toEqual(
      expect.arrayContaining([
        'geometric',
        'linear',
        'octave-fraction',
        'preferred-numbers',
        'significant-digits',
      ]),
    );
  });

  it('is told from its neighbours by that arithmetic', () => {
    const linear = { kind: 'linear', from: 20, step: 1 };
    const geometric = { kind: 'geometric', from: 26, to: 21700, count: 179 };
    const r40 = { kind: 'preferred-numbers', series: 'R40' };
    const digits = { kind: 'significant-digits', digits: 3 };
    for (const [grid, on, off] of [
      [linear, 19000, 19000.5],
      [geometric, 26 * (21700 / 26) ** (175 / 178), 19000],
      [r40, 19000, 18500],
      [{ ...r40, series: 'R10' }, 20000, 19000],
      [digits, 19300, 19320],
    ] as const) {
      expect([gridTests[grid.kind]?.(on, grid), gridTests[grid.kind]?.(off, grid)]).toEqual([true, false]);
    }
  });

  it('is by the nearest fit the step nearest by ratio where the grid is geometric, and its clicks count from both ends', () => {
    let compared = 0;
    for (const recipe of matrix.recipes.filter(({ fit }) => fit === 'nearest')) {
      for (const placed of bandsOf(recipe)) {
        const reference = offer(recipe, placed);
        const grid = typeof reference === 'string' ? recipe.target.quantisers[reference] : undefined;
        if (grid?.kind !== 'geometric') continue;
        const last = Number(grid.count) - 1;
        const index = Math.min(
          last,
          Math.max(0, Math.round(stepOnGeometric(placed.asked.frequencyHz, grid))),
        );
        expect(placed.steps.frequency).toMatchObject({
          index,
          of: last + 1,
          fromBottom: index,
          fromTop: last - index,
        });
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(30);
  });
});

describe('the guard', () => {
  const figureNames = ['pilotAttenuationDb', 'keepLossDb', 'riseDb', 'guardBandDb'] as const;

  it('has the figures that complex arithmetic gives for every desk that builds by the Cookbook', () => {
    const rates = new Set<number>();
    const known = new Map<string, ReturnType<typeof guardFigures>>();
    for (const { json, target } of matrix.recipes) {
      for (const { filters, guard } of json.mixes) {
        for (const { id, design, qMeaning, bandwidthMeaning, sampleRateHz } of target.realisations) {
          if (!guard || design !== 'cookbook' || qMeaning !== 'cookbook' || sampleRateHz === null) continue;
          const building = { rateHz: sampleRateHz, readsOctavesPlainly: bandwidthMeaning === 'analogue' };
          const key = JSON.stringify([filters, guard, building]);
          const figures = known.get(key) ?? guardFigures(filters, guard, building);
          known.set(key, figures);
          const told = guard.byRealisation.find((each) => each.id === id);
          for (const name of figureNames) {
            const difference = Math.abs((told?.[name] ?? Number.NaN) - figures[name]);
            expect(difference, `${target.id} ${id} ${name}`).toBeLessThan(0.01);
          }
          for (const end of ['leastDb', 'mostDb'] as const) {
            const difference = Math.abs(
              (told?.pilotToProgrammeDb?.[end] ?? Number.NaN) - figures.pilotToProgrammeDb[end],
            );
            expect(difference, `${target.id} ${id} ${end}`).toBeLessThan(0.01);
          }
          rates.add(sampleRateHz);
        }
      }
    }
    expect(known.size).toBeGreaterThan(40);
    expect([...rates].sort()).toEqual([44100, 48000, 96000]);
  });

  it('asks at the pilot for what pre-emphasis adds there, the greater where it is not known', () => {
    // ITU-R BS.450: 1 + (2πfτ)² of power; 19 kHz at 50 and 75 microseconds.
    const liftDb = { 'rig-small.json': 19.094, 'rig-quay.xml': 15.638 };
    for (const [rig, lift] of Object.entries(liftDb)) {
      const guards = matrix.recipes
        .filter((each) => each.rig === rig)
        .map(({ json }) => json.mixes[0]?.guard);
      expect(guards.length).toBeGreaterThanOrEqual(matrix.targets.length);
      for (const guard of guards) expect(guard?.limits.pilotAttenuationAtLeastDb).toBeCloseTo(lift, 3);
    }
  });

  it('takes the worst of what each way of building gives', () => {
    for (const { json } of matrix.recipes) {
      for (const { guard } of json.mixes) {
        if (!guard) continue;
        const all = (name: (typeof figureNames)[number]) => guard.byRealisation.map((each) => each[name]);
        const ends = (end: 'leastDb' | 'mostDb') =>
          guard.byRealisation.map((each) => each.pilotToProgrammeDb?.[end] ?? Infinity);
        expect(guard.worst).toEqual({
          pilotAttenuationDb: Math.min(...all('pilotAttenuationDb')),
          keepLossDb: Math.max(...all('keepLossDb')),
          riseDb: Math.max(...all('riseDb')),
          guardBandDb: Math.min(...all('guardBandDb')),
          pilotToProgrammeDb: { leastDb: Math.min(...ends('leastDb')), mostDb: Math.min(...ends('mostDb')) },
        });
      }
    }
  });

  it('has the attenuation at the pilot that node-web-audio-api 1.0.9 gives', () => {
    const recipe = matrix.recipes.find(
      ({ rig, fit, target }) => rig === rigs[0] && fit === 'nearest' && target.id === 'log-179',
    );
    const [mix] = recipe?.json.mixes ?? [];
    if (!mix?.guard) throw new Error('no guard to compare');
    const window = Array.from({ length: 9 }, (_, i) => 18900 + 25 * i);
    const most = Math.max(...levelsDb(mix.filters, 48000, window));
    const told = mix.guard.byRealisation.find(({ id }) => id === 'cookbook-48k');
    expect(Math.abs((told?.pilotAttenuationDb ?? Number.NaN) + most)).toBeLessThan(0.01);
  });
});
