import type { Journal } from '../../../model/journal.js';
import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';
import { placedSlots } from './found-values.js';

/** The slots of a mix are slots of its own outputs: putting one mix back touches no other. */
export const slotsOfOwnOutputs: Rule<Journal> = {
  name: 'slots-of-own-outputs',
  check: (journal) =>
    placedSlots(journal)
      .filter(({ slot, mix }) => !mix.outputs.includes(slot.output))
      .map(({ slot, mix, path }) =>
        problem(
          slotsOfOwnOutputs.name,
          `${path}.output`,
          `Output ${slot.output} is none of mix ${quote(mix.name)}, which has ${mix.outputs.join(' and ')}; correct one of them.`,
        ),
      ),
};
