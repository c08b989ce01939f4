import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

const uniqueIds = (name: string, list: 'slots' | 'realisations'): Rule<Target> => ({
  name,
  check: (target) =>
    repeated(target[list].map(({ id }) => id)).map(({ name: id, index, firstIndex }) =>
      problem(
        name,
        `${list}[${index}].id`,
        `The id ${quote(id)} is that of ${list}[${firstIndex}] already; give each an id of its own.`,
      ),
    ),
});

/** Slots are told apart by their ids. */
export const uniqueSlotIds = uniqueIds('unique-slot-ids', 'slots');

/** Realisations are told apart by their ids. */
export const uniqueRealisationIds = uniqueIds('unique-realisation-ids', 'realisations');
