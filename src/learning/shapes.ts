import type { Quantiser } from '../quantisers/quantiser.js';
import { makeQuantiser } from '../quantisers/registry.js';
import { step } from '../units/quantity.js';
import { chainsOf } from './chains.js';
import type { ClicksFrom, Explanation, KnobEvidence } from './families/family.js';
import { gridFamilies } from './families/registry.js';
import type { Neighbours } from './learned.js';
import type { Interval, KnobReadings, LastDigit, Reading } from './reading.js';

/** A shape of grid that explains what was read, under one or both ways of making the last digit. */
export interface Shape {
  /** Its simplest form. */
  readonly simplest: Explanation;
  readonly byLastDigit: readonly { readonly lastDigit: LastDigit; readonly explanation: Explanation }[];
  /** Other rules that come to the very same values. */
  readonly alsoKnownAs: readonly Explanation[];
}

const hull = (intervals: readonly (Interval | null)[]): Interval | null => {
  const known = intervals.flatMap((each) => each ?? []);
  return known.length === 0
    ? null
    : {
        least: Math.min(...known.map(({ least }) => least)),
        most: Math.max(...known.map(({ most }) => most)),
      };
};

/** What a shape has next to a value, whatever is open. */
export const neighboursIn = ({ byLastDigit, simplest }: Shape, value: number): Neighbours => {
  const all = [simplest, ...byLastDigit.map(({ explanation }) => explanation)].map((each) =>
    each.neighboursOf(value),
  );
  return {
    below: hull(all.map(({ below }) => below)),
    at: all[0]?.at === true,
    above: hull(all.map(({ above }) => above)),
  };
};

/** Whether a shape explains one more reading. */
export const admitsReading = (
  { byLastDigit }: Shape,
  reading: Pick<Reading, 'ifRounded' | 'ifCut'>,
  from: ClicksFrom | null,
): boolean =>
  byLastDigit.some(({ lastDigit, explanation }) =>
    explanation.admits(lastDigit === 'rounded' ? reading.ifRounded : reading.ifCut, from),
  );

/** Values of so many steps are compared where there are more. */
const mostCompared = 400;

const gridOf = ({ spec, count }: Explanation): Quantiser | null => {
  const grid = count === null ? null : makeQuantiser(spec);
  return grid?.ok ? grid.value : null;
};

const areSame = (one: Quantiser, other: Quantiser): boolean => {
  if (one.count !== other.count) return false;
  const stride = Math.max(1, Math.ceil(one.count / mostCompared));
  for (let index = 0; index < one.count; index += stride) {
    const [a, b] = [one.valueAt(step(index)), other.valueAt(step(index))];
    if (Math.abs(a - b) > 1e-9 * Math.abs(a)) return false;
  }
  return true;
};

/** What grids with the same values have in common, quickly told. */
const signature = (grid: Quantiser): string =>
  [0, Math.floor(grid.count / 2), grid.count - 1]
    .map((index) => grid.valueAt(step(index)).toPrecision(7))
    .concat(String(grid.count))
    .join(' ');

/** One shape for those that have the very same values, called by the simplest of their names. */
const withoutDoubles = (shapes: readonly Shape[]): readonly Shape[] => {
  const kept: { shape: Shape; grid: Quantiser | null }[] = [];
  const bySignature = new Map<string, (typeof kept)[number]>();
  for (const shape of shapes) {
    const grid = gridOf(shape.simplest);
    const sign = grid && signature(grid);
    const twin = sign === null ? undefined : bySignature.get(sign);
    if (twin?.grid && grid && areSame(twin.grid, grid)) {
      // Its family may be wider than the twin's, so what it explains counts too.
      twin.shape = {
        ...twin.shape,
        byLastDigit: [...twin.shape.byLastDigit, ...shape.byLastDigit],
        alsoKnownAs: [...twin.shape.alsoKnownAs, shape.simplest],
      };
    } else {
      const entry = { shape, grid };
      kept.push(entry);
      if (sign !== null) bySignature.set(sign, entry);
    }
  }
  return kept.map(({ shape }) => shape);
};

/** What is known beside the readings. */
export interface KnownBeside {
  /** How many steps the knob has. */
  readonly count?: number | undefined;
  /** How the display makes its last digit; both where it is left out. */
  readonly lastDigit?: LastDigit | undefined;
}

/** So much simpler another rule has to be for stretches of steps, which explain much, not to be believed in. */
const farFetched = 6;

const withoutFarFetched = (shapes: readonly Shape[]): readonly Shape[] => {
  const isStretches = ({ simplest }: Shape) => simplest.spec.kind === 'piecewise-linear';
  const ruled = shapes.find((shape) => !isStretches(shape));
  return shapes.filter(
    (shape) =>
      !ruled || !isStretches(shape) || shape.simplest.complexity < ruled.simplest.complexity + farFetched,
  );
};

/** Every shape that explains all readings, the simplest first. */
export const shapesThatExplain = (
  { knob, readings }: KnobReadings,
  { count, lastDigit: only }: KnownBeside,
): { readonly shapes: readonly Shape[]; readonly areMore: boolean } => {
  const found = new Map<string, Shape>();
  let areMore = false;
  for (const lastDigit of only ? [only] : (['rounded', 'cut'] as const)) {
    const chains = chainsOf(readings, lastDigit);
    const evidence: KnobEvidence = { knob, readings, lastDigit, chains, count: count ?? null };
    for (const family of gridFamilies) {
      const explained = family.explain(evidence);
      areMore ||= explained.areMore;
      for (const explanation of explained.explanations) {
        const before = found.get(explanation.key);
        found.set(explanation.key, {
          simplest:
            before && before.simplest.complexity <= explanation.complexity ? before.simplest : explanation,
          byLastDigit: [...(before?.byLastDigit ?? []), { lastDigit, explanation }],
          alsoKnownAs: [],
        });
      }
    }
  }
  const shapes = [...found.values()].sort((a, b) => a.simplest.complexity - b.simplest.complexity);
  return { shapes: withoutDoubles(withoutFarFetched(shapes)), areMore };
};
