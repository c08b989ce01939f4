import { type Outcome, problem } from '../model/problem.js';
import type { Osc, Target } from '../model/target.js';
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
