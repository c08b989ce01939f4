import { readdirSync, readFileSync } from 'node:fs';
import { readTarget } from '../../src/documents/read.js';
import type { FilterType } from '../../src/filters/filter.js';
import { type Knob, knobNames } from '../../src/model/knob.js';
import type { GridReference, SlotType, Target } from '../../src/model/target.js';
import type { Quantiser } from '../../src/quantisers/quantiser.js';
import { makeQuantiser } from '../../src/quantisers/registry.js';
import { step } from '../../src/units/quantity.js';

const folder = new URL('../../targets/', import.meta.url);

export const shippedFiles: readonly string[] = readdirSync(folder)
  .filter((name) => name !== 'README.md')
  .sort();

export const textOf = (file: string): string => readFileSync(new URL(file, folder), 'utf8');

/** Reads a shipped file as the program does: schema first, then every rule. */
export const readShipped = (file: string) => readTarget(textOf(file), { source: `targets/${file}` });

const read = await Promise.all(
  shippedFiles.map(async (file) => ({ file, outcome: await readShipped(file) })),
);

/** The shipped targets by file name; targets.test.ts tells of files that cannot be read. */
export const shipped: ReadonlyMap<string, Target> = new Map(
  read.flatMap(({ file, outcome }) => (outcome.ok ? [[file, outcome.value] as const] : [])),
);

/** Every slot type of a target, with the slot it belongs to. */
export const offers = (target: Target) =>
  target.slots.flatMap((slot) =>
    (Object.entries(slot.types) as [FilterType, SlotType][]).map(([type, knobs]) => ({
      slot: slot.id,
      type,
      knobs,
    })),
  );

/** The targets that offer something. */
export const targetsWith = (holds: (target: Target) => boolean): readonly Target[] =>
  [...shipped.values()].filter(holds);

export const offersType = (target: Target, type: FilterType): boolean =>
  offers(target).some((offer) => offer.type === type);

export const gridOf = (target: Target, reference: GridReference | undefined): Quantiser => {
  if (reference === undefined) throw new RangeError('no such knob');
  if (typeof reference === 'number') return { count: 1, valueAt: () => reference };
  const spec = target.quantisers[reference];
  if (!spec) throw new RangeError(`${target.id} names a grid "${reference}" it does not describe`);
  const made = makeQuantiser(spec);
  if (!made.ok) throw new RangeError(made.error);
  return made.value;
};

/** Far more steps than any knob that shows them has; grids of floats are not to be walked through. */
export const isWalkable = ({ count }: Quantiser): boolean => count <= 100_000;

/** Every value of a grid, from the bottom stop up. */
export const valuesOf = (grid: Quantiser): readonly number[] => {
  if (!isWalkable(grid)) throw new RangeError(`${grid.count} steps are too many to walk through`);
  return Array.from({ length: grid.count }, (_, index) => grid.valueAt(step(index)));
};

export const bottomOf = (grid: Quantiser): number => grid.valueAt(step(0));
export const topOf = (grid: Quantiser): number => grid.valueAt(step(grid.count - 1));

/** Every knob that turns: its name and what its grid is called. */
export const turningKnobs = (
  target: Target,
): readonly { readonly knob: Knob; readonly reference: string }[] => {
  const found = new Map<string, { knob: Knob; reference: string }>();
  for (const { knobs } of offers(target)) {
    for (const knob of knobNames) {
      const reference = knobs[knob];
      if (typeof reference === 'string') found.set(`${knob} ${reference}`, { knob, reference });
    }
  }
  return [...found.values()];
};

/** The frequencies of the bells of a target, of all its slots together. */
export const bellFrequenciesHz = (target: Target): readonly number[] =>
  [...new Set(offers(target).flatMap(({ type, knobs }) => (type === 'peaking' ? [knobs.frequency] : [])))]
    .flatMap((reference) => valuesOf(gridOf(target, reference)))
    .sort((a, b) => a - b);

/** The grids of a knob that turns, over all slots of a target. */
export const gridsOf = (target: Target, knob: Knob): readonly Quantiser[] =>
  turningKnobs(target).flatMap((turning) =>
    turning.knob === knob ? [gridOf(target, turning.reference)] : [],
  );

/** The first of them. */
export const firstGridOf = (target: Target, knob: Knob): Quantiser => {
  const [first] = gridsOf(target, knob);
  if (!first) throw new RangeError(`${target.id} has no ${knob} knob that turns`);
  return first;
};

/** The one target that offers something; more or fewer are a fault of the asking test. */
export const theTargetWith = (holds: (target: Target) => boolean): Target => {
  const found = [...shipped.values()].filter(holds);
  const [target] = found;
  if (!target || found.length > 1) throw new RangeError(`${found.length} targets instead of one`);
  return target;
};
