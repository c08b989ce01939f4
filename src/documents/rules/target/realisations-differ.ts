import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

/** No two realisations are the same but for their ids; the second would only cost time. */
export const realisationsDiffer: Rule<Target> = {
  name: 'realisations-differ',
  check: ({ realisations }) =>
    repeated(
      realisations.map(
        ({ design, qMeaning, bandwidthMeaning = 'digital', sampleRateHz }) =>
          `${design} ${qMeaning} ${bandwidthMeaning} ${sampleRateHz}`,
      ),
    ).map(({ index, firstIndex }) =>
      problem(
        realisationsDiffer.name,
        `realisations[${index}]`,
        `This is the same as ${quote(realisations[firstIndex]?.id)}; one of the two can go.`,
      ),
    ),
};
