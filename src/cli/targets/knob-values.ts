import type { FilterType } from '../../filters/filter.js';
import { tableLines } from '../../layout/columns.js';
import { wrap } from '../../layout/wrap.js';
import type { Desk } from '../../model/desk.js';
import { knobPosition } from '../../model/display.js';
import { type Knob, knobs } from '../../model/knob.js';
import type { KnobPosition } from '../../model/recipe.js';
import { typeWords } from '../../model/words.js';
import type { Quantiser } from '../../quantisers/quantiser.js';
import { nearestStep } from '../../quantisers/snap.js';
import { step } from '../../units/quantity.js';

/** One value of a knob, and where the knob stands there. */
interface KnobValue extends KnobPosition {
  readonly value: number;
}

/** A knob as some slots have it, and its values: all of them, or those round one. */
export interface KnobValues {
  readonly slots: readonly string[];
  readonly types: readonly FilterType[];
  readonly count: number;
  readonly values: readonly KnobValue[];
}

/** So many values to either side of the one that is asked for. */
const besides = 6;

const stepsOf = (grid: Quantiser, knob: Knob, around: number | undefined): readonly number[] => {
  const nearest =
    around === undefined ? 0 : nearestStep(grid, around, { measure: knobs[knob].measure, tie: 'up' });
  const [first, last] =
    around === undefined
      ? [0, grid.count - 1]
      : [Math.max(0, nearest - besides), Math.min(grid.count - 1, nearest + besides)];
  return Array.from({ length: last - first + 1 }, (_, at) => first + at);
};

/** Every grid a knob of a desk has, whichever slots and types it is of; one for each that differs. */
export const gridsOf = (
  desk: Desk,
  knob: Knob,
): readonly (Omit<KnobValues, 'values'> & { readonly grid: Quantiser })[] => {
  const found = new Map<Quantiser, { slots: Set<string>; types: Set<FilterType> }>();
  for (const { id, types } of desk.slots) {
    for (const { type, grids } of types.values()) {
      const grid = grids[knob];
      if (!grid) continue;
      const users = found.get(grid) ?? { slots: new Set(), types: new Set() };
      users.slots.add(id);
      users.types.add(type);
      found.set(grid, users);
    }
  }
  return [...found].map(([grid, { slots, types }]) => ({
    slots: [...slots],
    types: [...types],
    count: grid.count,
    grid,
  }));
};

/** The values of every grid a knob of a desk has: all of them, or those round one. */
export const knobValues = (desk: Desk, knob: Knob, around?: number): readonly KnobValues[] =>
  gridsOf(desk, knob).map(({ grid, ...users }) => ({
    ...users,
    values: stepsOf(grid, knob, around).map((index) => ({
      value: grid.valueAt(step(index)),
      ...knobPosition(knob, grid, step(index), desk.target.display),
    })),
  }));

const usersOf = ({ slots, types }: KnobValues): string =>
  `slot${slots.length === 1 ? '' : 's'} ${slots.join(', ')}, ${types.map((type) => typeWords[type]).join(', ')}`;

/** Values for people: as the desk shows them, exactly, and in clicks from either stop. */
export const knobValueLines = (all: readonly KnobValues[], columns: number): readonly string[] =>
  all.flatMap((each, at) => {
    const { count, values } = each;
    const [only] = values;
    if (count === 1 && only) return wrap(`${usersOf(each)}: ${only.display}, fixed`, columns, '  ');
    return [
      ...(at > 0 ? [''] : []),
      ...wrap(`${usersOf(each)}: ${count} values`, columns, '  '),
      ...tableLines([
        ['  shown', 'exactly', 'clicks up', 'clicks down'],
        ...values.map(({ display, value, fromBottom, fromTop }) => [
          `  ${display}`,
          `${Number(value.toPrecision(9))}`,
          `${fromBottom}`,
          `${fromTop}`,
        ]),
      ]),
    ];
  });
