import { describe, expect, it } from 'vitest';
import { hearOnDesk } from '../../src/analysis/hear.js';
import { protect } from '../../src/fitting/protect/protect.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import { preEmphasisDb } from '../../src/guard/modulation.js';
import { makeDesk } from '../../src/model/make-desk.js';
import { protectiveIntents, usualSystem } from '../../src/model/protection.js';
import type { Rig } from '../../src/model/rig.js';
import { makeRecipe } from '../../src/recipes/make-recipe.js';
import { hz } from '../../src/units/quantity.js';
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

const recipeOn = (file: string, preEmphasisMicroseconds: number) => {
  const rig: Rig = {
    format: 'bandwright-rig/1',
    title: 'Nothing else said',
    systems: { packs: { ...usualSystem, preEmphasisMicroseconds } },
    mixes: [{ name: 'Voice', outputs: [1, 2], feeds: 'packs' }],
  };
  const recipe = makeRecipe(rig, deskOf(file), { fit: protect, spareSlots: 0 });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  return recipe.value;
};

describe('a system of which nothing but its pre-emphasis is said', () => {
  it.each(rows)('$file, $microseconds microseconds: $verdict', ({ file, microseconds, verdict }) => {
    const { mixes, problems } = recipeOn(file, microseconds);
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

  it.each([...shipped.keys()].filter((file) => !hopeless.has(file)))('is heard whole on %s', (file) => {
    const desk = deskOf(file);
    const heard = hearOnDesk(
      {
        intents: protectiveIntents(usualSystem),
        context: { desk, slots: desk.slots, scope: guardScope(hz(19000)), spareSlots: 0 },
      },
      {},
    );
    if (!heard.ok) throw new Error(JSON.stringify(heard.error));
    // The programme is made to swap left and right where nothing is cut; behind the filters it never does.
    expect(heard.value.without.stereo.swappedShare).toBeGreaterThan(0.1);
    expect(heard.value.with.lock.kept).toBe(true);
    expect(heard.value.with.stereo.swappedShare).toBe(0);
    expect(heard.value.with.stereo.foldedShare).toBe(0);
  });
});
