import { problem } from '../../../model/problem.js';
import type { OscParameter, Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';

/** What OSC sets has an address and an encoding; one without the other sends nothing. */
export const oscPairs: Rule<Target> = {
  name: 'osc-pairs',
  check: ({ osc }) => {
    if (!osc) return [];
    const { addresses, encodings } = osc;
    // A name is read from the desk and never set, so it has no encoding.
    const addressed = Object.keys(addresses).filter((key) => key !== 'outputName') as OscParameter[];
    const encoded = Object.keys(encodings) as OscParameter[];
    const lacking = (keys: readonly OscParameter[], has: readonly string[], what: string, list: string) =>
      keys
        .filter((key) => !has.includes(key))
        .map((key) =>
          problem(
            oscPairs.name,
            `osc.${list}.${key}`,
            `${what} is missing for ${key}; give it, or take ${key} out of osc.${list === 'encodings' ? 'addresses' : 'encodings'}.`,
          ),
        );
    return [
      ...lacking(addressed, encoded, 'An encoding', 'encodings'),
      ...lacking(encoded, addressed, 'An address', 'addresses'),
    ];
  },
};
