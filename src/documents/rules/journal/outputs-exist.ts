import type { Journal } from '../../../model/journal.js';
import { problem } from '../../../model/problem.js';
import type { Rule } from '../rule.js';

/** Every output is one the target has. */
export const outputsExist: Rule<Journal> = {
  name: 'outputs-exist',
  check: ({ mixes, target }) =>
    mixes.flatMap(({ outputs }, mix) =>
      outputs.flatMap((output, index) =>
        output <= target.outputs.count
          ? []
          : [
              problem(
                outputsExist.name,
                `mixes[${mix}].outputs[${index}]`,
                `Output ${output} is beyond the target's ${target.outputs.count}; correct it, or target.outputs.count.`,
              ),
            ],
      ),
    ),
};
