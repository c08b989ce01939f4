import { type Outcome, problem } from '../model/problem.js';
import type { Osc, OscEncoding, OscParameter, Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';

/** How OSC reaches a target. Problem: `osc-missing`, where the target does not say. */
export const oscOf = ({ osc, id }: Target): Outcome<Osc> =>
  osc
    ? ok(osc)
    : fail([
        problem(
          'osc-missing',
          'osc',
          `The target ${quote(id)} does not say how OSC reaches it. Add its addresses from the desk's manual, or dial the recipe by hand.`,
        ),
      ]);

/** How the value of a parameter travels. Problem: `osc-encoding-missing`, where the target has an address only. */
export const encodingOf = ({ encodings }: Osc, name: OscParameter): Outcome<OscEncoding> => {
  const encoding = encodings[name];
  if (encoding) return ok(encoding);
  const told = `The target has an address for ${name} and does not say how its value travels. Add the encoding.`;
  return fail([problem('osc-encoding-missing', `osc.encodings.${name}`, told)]);
};
