import { problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** A limit on loss is hard, or gives way up to another to reach the attenuation asked; not both. */
export const oneLossLimit: Rule<Rig> = {
  name: 'one-loss-limit',
  check: ({ guard: { keepLossAtMostDb, keepLossToReachDb } = {} }) =>
    keepLossAtMostDb === undefined || keepLossToReachDb === undefined
      ? []
      : [
          problem(
            oneLossLimit.name,
            'guard.keepLossToReachDb',
            `keepLossAtMostDb, ${keepLossAtMostDb} dB, is a hard limit; beside it nothing more may be lost to reach the attenuation asked. Take one of the two out.`,
          ),
        ],
};
