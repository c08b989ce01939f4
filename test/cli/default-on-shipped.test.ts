import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import type { Fit } from '../../src/fitting/fit.js';
import { placedFilter } from '../../src/fitting/placement.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { pilotAttenuationDb } from '../../src/guard/guard-figures.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import { preEmphasisDb } from '../../src/guard/modulation.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { usualSystem } from '../../src/model/protection.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { builtInProgramme } from '../../src/simulator/built-in-programme.js';
import { listen } from '../../src/simulator/listen.js';
import type { Stereo } from '../../src/simulator/stereo.js';
import { db, type Hz, hz } from '../../src/units/quantity.js';
import type { Case } from '../laws/protect/cases.js';
import { expectNotWorseThanByHand, expectSound, type Fitted } from '../laws/protect/sound.js';
import { shipped } from '../targets/shipped.js';

/**
 * Desks on which no setting guards a pilot, and why not: told by their own grids, from which anyone can check it. On every
 * other one the nearest frequency of a bell lies within 35 cents of the pilot, and it cuts by 15 dB or more.
 */
const hopeless: ReadonlyMap<string, string> = new Map([
  ['four-band.json', 'one slot reaches the pilot, and it has neither notch nor high cut'],
  ['graphic-31.json', 'its faders sit at 16 and 20 kHz'],
  ['top-18.json', 'its bells end at 18 kHz'],
  ['two-legs.json', 'its bells cut by 6 dB at most'],
]);

const deskOf = (file: string) => {
  const target = shipped.get(file);
  const desk = target && makeDesk(target);
  if (!desk?.ok) throw new Error(`no desk ${file}`);
  return desk.value;
};

const rows = [...shipped.keys()].flatMap((file) =>
  [50, 75].map((microseconds) => ({
    file,
    microseconds,
    verdict: hopeless.has(file) ? 'falls-short' : 'met',
  })),
);

/** A recipe, and what its one fit was asked and chose. */
interface Made {
  readonly recipe: Recipe;
  readonly fitted: readonly (Fitted & { readonly each: Case })[];
}

const known = new Map<string, Made>();

const madeOn = (file: string, preEmphasisMicroseconds: number): Made => {
  const key = `${file} ${preEmphasisMicroseconds}`;
  const made = known.get(key) ?? makeOn(file, preEmphasisMicroseconds);
  known.set(key, made);
  return made;
};

const makeOn = (file: string, preEmphasisMicroseconds: number): Made => {
  const rig: Rig = {
    format: 'bandwright-rig/1',
    title: 'Nothing else said',
    systems: { packs: { ...usualSystem, preEmphasisMicroseconds } },
    mixes: [{ name: 'Voice', outputs: [1, 2], feeds: 'packs' }],
  };
  const fitted: Made['fitted'][number][] = [];
  const fit: Fit = {
    ...protect,
    fit: (intents, context) => {
      const outcome = protect.fit(intents, context);
      const { desk, guard } = context;
      if (!guard) throw new Error('nothing was to be guarded');
      fitted.push({
        ...outcome,
        intents,
        each: { target: desk.target, intents, scope: guard.scope, context },
      });
      return outcome;
    },
  };
  const recipe = makeRecipe(rig, deskOf(file), { fit, spareSlots: 0 });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  return { recipe: recipe.value, fitted };
};

describe('a system of which nothing but its pre-emphasis is said', () => {
  it.each(rows)('$file, $microseconds microseconds: $verdict', ({ file, microseconds, verdict }) => {
    const { mixes, problems } = madeOn(file, microseconds).recipe;
    const [mix] = mixes;
    const { guard, nearest, alternative } = mix ?? {};
    if (!guard || !nearest) throw new Error('nothing was guarded');
    expect(guard.verdict).toBe(verdict);
    // What pre-emphasis adds at 19 kHz: 10 log10(1 + (2π · 19000 · τ)²), 15.638 and 19.094 dB.
    expect(guard.limits.pilotAttenuationAtLeastDb).toBeCloseTo(preEmphasisDb(hz(19000), microseconds), 9);
    expect(guard.worst.keepLossDb).toBeLessThanOrEqual(3 + 1e-9);
    if (verdict === 'met') {
      expect(problems.filter(({ code }) => code !== 'no-place')).toEqual([]);
      if (alternative?.kind === 'stronger') {
        expect(alternative.worst.pilotAttenuationDb).toBeGreaterThan(guard.worst.pilotAttenuationDb);
      }
    } else {
      // The best there is, and beside it what would cost the music less; both by hand are no better.
      expect(problems.length).toBeGreaterThan(0);
      if (nearest.worst.keepLossDb <= 3) {
        expect(guard.worst.pilotAttenuationDb).toBeGreaterThanOrEqual(
          nearest.worst.pilotAttenuationDb - 1e-9,
        );
      }
    }
    if (alternative?.kind === 'gentler') {
      expect(alternative.worst.keepLossDb).toBeLessThan(guard.worst.keepLossDb);
      expect(alternative.worst.pilotAttenuationDb).toBeLessThan(guard.worst.pilotAttenuationDb);
    }
  });

  it.each(rows)('$file, $microseconds microseconds: all laws of a protective fit hold', (row) => {
    const { fitted } = madeOn(row.file, row.microseconds);
    expect(fitted).toHaveLength(1);
    for (const chosen of fitted) {
      expectSound(chosen.each, chosen);
      expectNotWorseThanByHand(chosen.each, () => chosen);
    }
  });

  const pilotHz = hz(19000);
  const link = { pilotHz, preEmphasisMicroseconds: 75, lineUpDbfs: db(0) };
  const programmes = new Map<Hz, Stereo>();
  const programmeAt = (rateHz: Hz): Stereo => {
    const made = programmes.get(rateHz) ?? builtInProgramme(1.5, rateHz, 1, pilotHz);
    programmes.set(rateHz, made);
    return made;
  };

  it.each([48000, 96000])('is not heard whole where nothing is cut: %d Hz', (rateHz) => {
    const { stereo } = listen(programmeAt(hz(rateHz)), null, link);
    // The programme is made to swap left and right there; behind the filters it never does.
    expect(stereo.swappedShare).toBeGreaterThan(0.1);
  });

  it.each([...shipped.keys()].filter((file) => !hopeless.has(file)))('is heard whole on %s', (file) => {
    const { filters = [] } = madeOn(file, link.preEmphasisMicroseconds).recipe.mixes[0] ?? {};
    const placed = filters.map(({ type, set }) => placedFilter(type, set));
    const scope = guardScope(pilotHz);
    // The way of building that does least for the pilot.
    const [least] = deskOf(file)
      .target.realisations.map((realisation) => ({ realisation, chain: buildChain(placed, realisation) }))
      .sort((a, b) => pilotAttenuationDb(a.chain, scope) - pilotAttenuationDb(b.chain, scope));
    if (!least) throw new Error('a desk builds its filters in some way');
    const programme = programmeAt(least.realisation.sampleRateHz ?? hz(48000));
    const { lock, stereo } = listen(programme, least.chain, link);
    expect(lock.kept).toBe(true);
    expect(stereo.swappedShare).toBe(0);
    expect(stereo.foldedShare).toBe(0);
  });
});
