import type { Intent, IntentsDocument } from '../../../model/intent.js';
import type { Problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** Both documents that hold intents. */
export type IntentsHolder = IntentsDocument | Rig;

/** A rule about each intent on its own. */
export const intentRule = (
  name: string,
  check: (intent: Intent, path: string) => readonly Problem[],
): Rule<IntentsHolder> => ({
  name,
  check: ({ intents = [] }) => intents.flatMap((intent, index) => check(intent, `intents[${index}]`)),
});
