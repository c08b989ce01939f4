import { type Problem, problem } from '../../../model/problem.js';
import type { OscAddressed, Target } from '../../../model/target.js';
import { listed } from '../../../units/suggest.js';
import type { Rule } from '../rule.js';
import { askedAt } from './osc-asking.js';

/** Where values are asked for by address, each of them has one, and nothing else has. */
export const oscAskingComplete: Rule<Target> = {
  name: 'osc-asking-complete',
  check: (target): readonly Problem[] => {
    const { osc } = target;
    if (osc === undefined || typeof osc.read === 'string' || osc.read.by !== 'address') return [];
    const addressed = Object.keys(osc.addresses) as OscAddressed[];
    const asked = askedAt(target).map(({ name }) => name);
    const lacking = addressed.filter((name) => !asked.includes(name));
    const strays = Object.keys(osc.read.addresses ?? {}).filter(
      (name) => !addressed.includes(name as OscAddressed),
    );
    const lacks = `There is no address to ask for ${listed(lacking)} at; give each one under osc.read.addresses, or one for all as in "/ask{address}" under osc.read.address.`;
    return [
      ...(lacking.length > 0 ? [problem(oscAskingComplete.name, 'osc.read', lacks)] : []),
      ...strays.map((name) => {
        const message = `${name} is asked for here and has no address under osc.addresses; give it that, or take this out.`;
        return problem(oscAskingComplete.name, `osc.read.addresses.${name}`, message);
      }),
    ];
  },
};
