import { problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';

/** A filter is left out or asked for, not both. */
export const leaveOutOrAsk: Rule<Rig> = {
  name: 'leave-out-or-ask',
  check: ({ leaveOut = [], intents = [] }) =>
    leaveOut.flatMap((role, index) => {
      const asked = intents.findIndex((intent) => intent.role === role);
      if (asked === -1) return [];
      const message = `${quote(role)} is left out here, and asked for by intents[${asked}]; take one of the two out.`;
      return [problem(leaveOutOrAsk.name, `leaveOut[${index}]`, message)];
    }),
};
