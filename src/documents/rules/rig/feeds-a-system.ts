import { problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import { quote } from '../../../units/quote.js';
import { didYouMean, listed } from '../../../units/suggest.js';
import type { Rule } from '../rule.js';

/** Each mix feeds one of the rig's systems. */
export const feedsASystem: Rule<Rig> = {
  name: 'feeds-a-system',
  check: ({ systems, mixes }) => {
    const ids = Object.keys(systems);
    return mixes.flatMap(({ feeds }, index) => {
      if (ids.includes(feeds)) return [];
      const hint = didYouMean(feeds, ids) || '.';
      const message = `No system is called ${quote(feeds)}${hint} There are: ${listed(ids)}.`;
      return [problem(feedsASystem.name, `mixes[${index}].feeds`, message)];
    });
  },
};
