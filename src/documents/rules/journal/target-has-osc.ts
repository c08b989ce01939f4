import type { Journal } from '../../../model/journal.js';
import { problem } from '../../../model/problem.js';
import type { Rule } from '../rule.js';

/** The target says how OSC reaches it: nothing was found otherwise, and nothing could be put back. */
export const targetHasOsc: Rule<Journal> = {
  name: 'target-has-osc',
  check: ({ target }) =>
    target.osc
      ? []
      : [
          problem(
            targetHasOsc.name,
            'target.osc',
            'The target does not say how OSC reaches it, so nothing can be put back; give the osc it had.',
          ),
        ],
};
