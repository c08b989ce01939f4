import { problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

/** Mixes are told apart by their names. */
export const uniqueMixNames: Rule<Rig> = {
  name: 'unique-mix-names',
  check: ({ mixes }) =>
    repeated(mixes.map(({ name }) => name)).map(({ name, index, firstIndex }) =>
      problem(
        uniqueMixNames.name,
        `mixes[${index}].name`,
        `mixes[${firstIndex}] is called ${quote(name)} already; give each mix a name of its own.`,
      ),
    ),
};
