import { type Knob, knobNames } from '../../../src/model/knob.js';
import type { Target } from '../../../src/model/target.js';
import type { QuantiserSpec } from '../../../src/quantisers/quantiser.js';

/** Grids of no desk: whatever a search finds, it has not found it in the draft. */
const placeholders: Readonly<Record<Knob, QuantiserSpec>> = {
  frequency: { kind: 'geometric', from: 47, to: 9000, count: 6 },
  q: { kind: 'table', values: [0.9, 3.3] },
  bandwidth: { kind: 'table', values: [0.4, 1.7] },
  gain: { kind: 'linear', from: -7, to: 7, step: 3.5 },
  slope: { kind: 'table', values: [12] },
};

/** The knob that a grid of a target is for. */
export const knobOf = ({ slots }: Target, name: string): Knob => {
  const knob = slots
    .flatMap(({ types }) => Object.values(types))
    .flatMap((type) => knobNames.filter((each) => type[each] === name))[0];
  if (!knob) throw new Error(`nothing has the grid ${name}`);
  return knob;
};

/** A target as somebody would draft it who knows its addresses and none of its grids. */
export const blankDraft = (target: Target): Target => ({
  ...target,
  id: `draft-${target.id}`,
  quantisers: Object.fromEntries(
    Object.keys(target.quantisers).map((name) => [name, placeholders[knobOf(target, name)]]),
  ),
});
