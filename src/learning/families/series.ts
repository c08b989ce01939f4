import { knobs } from '../../model/knob.js';
import type { Quantiser, QuantiserSpec } from '../../quantisers/quantiser.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { step } from '../../units/quantity.js';
import { simplestIn } from '../simplest.js';
import type { GridFamily } from './family.js';
import { explainFixed, type FixedGrid } from './fixed-grid.js';

/** What every knob's values lie between, with room to spare. */
const [lowest, highest] = [1e-3, 1e6];

interface Series {
  readonly spec: Omit<QuantiserSpec, 'from' | 'to'>;
  readonly name: string;
  readonly complexity: number;
}

const all: readonly Series[] = [
  ...['R5', 'R10', 'R20', 'R40', 'R80'].map((series) => ({
    spec: { kind: 'preferred-numbers', series },
    name: `the preferred numbers ${series} of ISO 3`,
    complexity: 1.5,
  })),
  ...[1, 2, 3, 4, 5, 6, 7].map((digits) => ({
    spec: { kind: 'significant-digits', digits },
    name: digits === 1 ? 'every number of one digit' : `every number of ${digits} digits`,
    complexity: 1.5 + digits / 10,
  })),
];

/** An end to write down, on or beyond the last value and short of the next. */
const endNear = (grid: Quantiser, index: number, beyond: -1 | 1): number => {
  const [value, next] = [grid.valueAt(step(index)), grid.valueAt(step(index + beyond))];
  const near = value + 0.4 * (next - value);
  return simplestIn({ least: Math.min(value, near), most: Math.max(value, near) });
};

let made: readonly FixedGrid[] | null = null;

/** Made once: they depend on nothing. */
const fixedGrids = (): readonly FixedGrid[] => {
  made ??= all.flatMap(({ spec, name, complexity }) => {
    const grid = makeQuantiser({ kind: '', ...spec, from: lowest, to: highest });
    if (!grid.ok) throw new Error(grid.error);
    return [
      {
        name,
        grid: grid.value,
        say: (first: number, last: number) => ({
          spec: {
            ...spec,
            kind: String(spec.kind),
            from: endNear(grid.value, first, -1),
            to: endNear(grid.value, last, 1),
          },
          complexity,
          reasons: [name],
        }),
      },
    ];
  });
  return made;
};

/** The published series and the numbers of so many digits: nothing about them is open but the ends. */
export const series: GridFamily = {
  explain: (evidence) => ({
    explanations: (knobs[evidence.knob].measure === 'difference' ? [] : fixedGrids()).flatMap((fixed) =>
      explainFixed(fixed, evidence),
    ),
    areMore: false,
  }),
};
