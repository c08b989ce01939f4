import { preEmphasisFault } from '../../../model/link-limits.js';
import { pathTo, problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** Pre-emphasis is told in microseconds, not in seconds or milliseconds. */
export const preEmphasisInMicroseconds: Rule<Rig> = {
  name: 'pre-emphasis-in-microseconds',
  check: ({ systems }) =>
    Object.entries(systems).flatMap(([id, system]) => {
      if (system.link !== 'fm-stereo' || system.preEmphasisMicroseconds === undefined) return [];
      const fault = preEmphasisFault(system.preEmphasisMicroseconds);
      const path = pathTo(pathTo('systems', id), 'preEmphasisMicroseconds');
      return fault === null ? [] : [problem(preEmphasisInMicroseconds.name, path, fault)];
    }),
};
