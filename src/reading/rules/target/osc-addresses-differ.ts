import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';

/** No two things are sent to one address. */
export const oscAddressesDiffer: Rule<Target> = {
  name: 'osc-addresses-differ',
  check: ({ osc }) => {
    const addresses = Object.entries(osc?.addresses ?? {});
    // Padding changes how a number looks, not which one it is.
    const bare = addresses.map(([, template]) => template.replace(/:0\d\}/g, '}'));
    return repeated(bare).map(({ index, firstIndex }) => {
      const [key, template] = addresses[index] ?? ['', ''];
      const message = `${quote(template)} is the address of ${addresses[firstIndex]?.[0]} already; give each an address of its own.`;
      return problem(oscAddressesDiffer.name, `osc.addresses.${key}`, message);
    });
  },
};
