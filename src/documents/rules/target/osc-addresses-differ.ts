import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';
import { askedAt } from './osc-asking.js';

// Padding changes how a number looks, not which one it is.
const bareOf = (template: string): string => template.replace(/:0\d\}/g, '}');

/** No two things are sent to one address, and none is asked for where another one is. */
export const oscAddressesDiffer: Rule<Target> = {
  name: 'osc-addresses-differ',
  check: (target) => {
    const addresses = Object.entries(target.osc?.addresses ?? {});
    const shared = repeated(addresses.map(([, template]) => bareOf(template)));
    const sent = shared.map(({ index, firstIndex }) => {
      const [key, template] = addresses[index] ?? ['', ''];
      const message = `${quote(template)} is the address of ${addresses[firstIndex]?.[0]} already; give each an address of its own.`;
      return problem(oscAddressesDiffer.name, `osc.addresses.${key}`, message);
    });
    const asked = askedAt(target);
    const confused = asked.flatMap(({ name, template, path }, index) => {
      const isHere = (other: string): boolean => bareOf(other) === bareOf(template);
      const other =
        addresses.find(([key, each]) => key !== name && isHere(each))?.[0] ??
        asked.slice(0, index).find((each) => isHere(each.template))?.name;
      const message = `${quote(template)} would ask for ${name} at an address of ${other}; ask for each at an address of its own.`;
      return other === undefined ? [] : [problem(oscAddressesDiffer.name, path, message)];
    });
    return [...sent, ...confused];
  },
};
