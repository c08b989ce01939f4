import { knobNames } from '../../../model/knob.js';
import { pathTo, problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';
import { offeredTypes } from './slot-type-rule.js';

/** Every quantiser is the grid of some knob. */
export const unusedQuantisers: Rule<Target> = {
  name: 'unused-quantisers',
  check: (target) => {
    const used = new Set(
      offeredTypes(target).flatMap(({ offered }) => knobNames.map((knob) => offered[knob])),
    );
    return Object.keys(target.quantisers)
      .filter((name) => !used.has(name))
      .map((name) =>
        problem(
          unusedQuantisers.name,
          pathTo('quantisers', name),
          `No knob uses the quantiser ${quote(name)}; name it in a slot, or take it out.`,
        ),
      );
  },
};
