import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';

/** Only the cookbook reads a width in octaves in two ways. */
export const bandwidthMeaning: Rule<Target> = {
  name: 'bandwidth-meaning',
  check: ({ realisations }) =>
    realisations.flatMap(({ design, bandwidthMeaning: meaning }, index) =>
      meaning === undefined || design === 'cookbook'
        ? []
        : [
            problem(
              bandwidthMeaning.name,
              `realisations[${index}].bandwidthMeaning`,
              `The design ${design} reads a width in octaves by the plain relation of bandwidth and Q; bandwidthMeaning is for the design cookbook. Leave it out.`,
            ),
          ],
    ),
};
