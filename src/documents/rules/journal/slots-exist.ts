import type { Journal } from '../../../model/journal.js';
import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { didYouMean, listed } from '../../../units/suggest.js';
import type { Rule } from '../rule.js';
import { placedSlots } from './found-values.js';

/** Every slot is one of the target's. */
export const slotsExist: Rule<Journal> = {
  name: 'slots-exist',
  check: (journal) => {
    const ids = journal.target.slots.map(({ id }) => id);
    return placedSlots(journal)
      .filter(({ slot }) => !ids.includes(slot.slot))
      .map(({ slot, path }) => {
        const hint = didYouMean(slot.slot, ids) || '.';
        const message = `The target has no slot ${quote(slot.slot)}${hint} There are: ${listed(ids)}.`;
        return problem(slotsExist.name, `${path}.slot`, message);
      });
  },
};
