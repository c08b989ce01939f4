import type { Journal } from '../../../model/journal.js';
import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

interface Named {
  readonly name: string;
}

/** Mixes are told apart by their names, as they were found and as they were left. */
export const uniqueJournalMixNames: Rule<Journal> = {
  name: 'unique-mix-names',
  check: ({ mixes, outcome }) => {
    const inList = (list: string, named: readonly Named[]) =>
      repeated(named.map(({ name }) => name)).map(({ name, index, firstIndex }) =>
        problem(
          uniqueJournalMixNames.name,
          `${list}[${index}].name`,
          `${list}[${firstIndex}] is called ${quote(name)} already; give each mix a name of its own.`,
        ),
      );
    return [...inList('mixes', mixes), ...inList('outcome.mixes', outcome?.mixes ?? [])];
  },
};
