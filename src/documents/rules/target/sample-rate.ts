import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';

/** A digital design runs at a sample rate; the analogue prototype at none. */
export const sampleRate: Rule<Target> = {
  name: 'sample-rate',
  check: ({ realisations }) =>
    realisations.flatMap(({ id, design, sampleRateHz }, index) => {
      if ((design === 'analogue') === (sampleRateHz === null)) return [];
      const message =
        sampleRateHz === null
          ? `Realisation ${quote(id)} is of the ${design} design, which runs at a sample rate; give it in Hz, as in 48000.`
          : `Realisation ${quote(id)} is the analogue prototype, which has no sample rate; write null.`;
      return [problem(sampleRate.name, `realisations[${index}].sampleRateHz`, message)];
    }),
};
