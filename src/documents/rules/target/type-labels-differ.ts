import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

/** No two filter types are shown alike; who dials could not tell them apart. */
export const typeLabelsDiffer: Rule<Target> = {
  name: 'type-labels-differ',
  check: ({ display }) => {
    const labels = Object.entries(display.typeLabels ?? {});
    return repeated(labels.map(([, label]) => label)).map(({ name, index, firstIndex }) =>
      problem(
        typeLabelsDiffer.name,
        `display.typeLabels.${labels[index]?.[0]}`,
        `${quote(name)} is the label of ${labels[firstIndex]?.[0]} already; who dials cannot tell them apart.`,
      ),
    );
  },
};
