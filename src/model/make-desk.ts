import { buildSections } from '../filters/build.js';
import type { CutFamily, FilterType } from '../filters/filter.js';
import { familySlopes } from '../filters/slopes.js';
import { fixedGrid } from '../quantisers/grid.js';
import type { Quantiser, QuantiserKind } from '../quantisers/quantiser.js';
import { makeQuantiser, quantiserKinds } from '../quantisers/registry.js';
import { limits } from '../units/generated/limits.js';
import { type Step, step } from '../units/quantity.js';

import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { type Desk, type DeskSlot, type DeskSlotType, filterOf } from './desk.js';
import { type Knob, knobNames, knobs } from './knob.js';
import { type Outcome, type Problem, pathTo, problem } from './problem.js';
import type { Slot, SlotType, Target } from './target.js';

/** What the schemas let a value be: a recipe has to fit them. */
const ranges = {
  frequency: limits.frequencyHz,
  q: limits.q,
  bandwidth: limits.bandwidthOctaves,
  gain: limits.gainDb,
};

/** What a knob's grid must hold for a filter to be built from it. */
const gridFault = (knob: Knob, grid: Quantiser, family: CutFamily, target: Target): string | null => {
  const bottom = grid.valueAt(step(0));
  const top = grid.valueAt(step(grid.count - 1));
  if (knob !== 'gain' && bottom <= 0) return `begins at ${bottom}; a ${knob} is above 0`;
  if (knob !== 'slope') {
    const { least, most } = ranges[knob];
    if (bottom < least || top > most) {
      return `goes from ${bottom} to ${top}; a ${knob} may go from ${least} to ${most}`;
    }
  }
  if (knob === 'frequency') {
    const tooSlow = target.realisations.find(
      ({ sampleRateHz }) => sampleRateHz !== null && top >= sampleRateHz / 2,
    );
    return tooSlow
      ? `reaches ${top} Hz; realisation ${quote(tooSlow.id)} runs at ${tooSlow.sampleRateHz} Hz and can build nothing from half of that up. End the grid lower or correct the sample rate`
      : null;
  }
  if (knob === 'slope') {
    for (let index = 0; index < grid.count; index++) {
      const slope = grid.valueAt(step(index));
      if (!familySlopes[family].includes(slope)) {
        return `holds ${slope} dB per octave; a ${family} cut may have ${familySlopes[family].join(', ')}`;
      }
    }
  }
  return null;
};

/**
 * Makes every grid a target names, and with them the desk that fits work on.
 * Problems: a kind nobody knows, parameters a kind refuses, a grid no filter can be built from.
 */
export const makeDesk = (target: Target, kinds: readonly QuantiserKind[] = quantiserKinds): Outcome<Desk> => {
  const problems: Problem[] = [];
  const grids = new Map<string, Quantiser>();
  for (const [name, spec] of Object.entries(target.quantisers)) {
    const made = makeQuantiser(spec, kinds);
    if (made.ok) grids.set(name, made.value);
    else problems.push(problem('grid-refused', pathTo('quantisers', name), made.error));
  }

  // One grid a value, so that knobs fixed alike are seen to be alike.
  const fixedGrids = new Map<number, Quantiser>();
  const fixedAt = (value: number): Quantiser => {
    const grid = fixedGrids.get(value) ?? fixedGrid(value);
    fixedGrids.set(value, grid);
    return grid;
  };

  const gridAt = (type: SlotType, knob: Knob, path: string): Quantiser | undefined => {
    const reference = type[knob];
    if (reference === undefined) return undefined;
    const grid = typeof reference === 'number' ? fixedAt(reference) : grids.get(reference);
    if (!grid) {
      // A grid that was refused has been told already.
      if (!Object.hasOwn(target.quantisers, reference)) {
        const told = `There is no grid ${quote(reference)}; name one of the quantisers.`;
        problems.push(problem('grid-unknown', `${path}.${knob}`, told));
      }
      return undefined;
    }
    const fault = gridFault(knob, grid, type.family ?? 'butterworth', target);
    if (fault)
      problems.push(problem('grid-unfit', `${path}.${knob}`, `The grid ${quote(reference)} ${fault}.`));
    return grid;
  };

  const tried = new Set<string>();
  const slotType = (type: FilterType, offered: SlotType, path: string): DeskSlotType | undefined => {
    const found = knobNames.flatMap((knob) => {
      const grid = gridAt(offered, knob, path);
      return grid ? [[knob, grid] as const] : [];
    });
    const { frequency, ...others } = Object.fromEntries(found) as Partial<Record<Knob, Quantiser>>;
    if (!frequency) return undefined;
    const family = offered.family ? { family: offered.family } : {};
    const made: DeskSlotType = { type, grids: { frequency, ...others }, ...family };
    // What is wrong with one grid is told of that one; slots that are alike are tried once.
    const key = JSON.stringify([type, offered]);
    const fault = tried.has(key) || problems.length > 0 ? null : unbuildable(made, target);
    tried.add(key);
    if (fault) problems.push(problem('grid-unfit', path, `Each of its grids is good by itself; ${fault}.`));
    return made;
  };

  const deskSlot = (slot: Slot, index: number): DeskSlot => ({
    id: slot.id,
    types: new Map(
      (Object.entries(slot.types) as [FilterType, SlotType][]).flatMap(([type, offered]) => {
        const made = slotType(type, offered, `slots[${index}].types.${type}`);
        return made ? [[type, made] as const] : [];
      }),
    ),
    ...(slot.typeOrder ? { typeOrder: slot.typeOrder } : {}),
  });

  const slots = target.slots.map(deskSlot);
  return problems.length > 0 ? fail(problems) : ok({ target, slots });
};

type Steps = Readonly<Partial<Record<Knob, Step>>>;

/** Every knob at one of its ends, in every combination. */
const corners = ({ grids }: DeskSlotType): readonly Steps[] =>
  knobNames.reduce<readonly Steps[]>(
    (all, knob) => {
      const grid = grids[knob];
      const ends = grid ? [...new Set([0, grid.count - 1])] : [];
      return grid ? all.flatMap((steps) => ends.map((end) => ({ ...steps, [knob]: step(end) }))) : all;
    },
    [{}],
  );

/**
 * Why a realisation cannot build what the ends of a type's knobs say, as the end of a sentence; null where it can. What
 * overflows does so at an end: every coefficient goes one way with each knob.
 */
const unbuildable = (type: DeskSlotType, { realisations }: Target): string | null => {
  for (const realisation of realisations) {
    for (const filter of corners(type).map((steps) => filterOf(type, steps))) {
      try {
        buildSections(filter, realisation);
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        const settings = knobNames
          .filter((knob) => type.grids[knob])
          .map((knob) => `${knob} ${filter[knobs[knob].value]}`);
        return `realisation ${quote(realisation.id)} cannot build it at ${settings.join(', ')}. End one of these grids sooner or correct the realisation`;
      }
    }
  }
  return null;
};
