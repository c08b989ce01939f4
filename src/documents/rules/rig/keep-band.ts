import { problem } from '../../../model/problem.js';
import type { Rig } from '../../../model/rig.js';
import type { Rule } from '../rule.js';

/** The band of music kept where a rig does not say. Common practice, no source. */
export const usualKeepBandHz = { low: 80, high: 12000 } as const;

/** The band of music to keep begins below where it ends. */
export const keepBand: Rule<Rig> = {
  name: 'keep-band',
  check: ({ guard = {} }) => {
    const low = guard.keepLowHz ?? usualKeepBandHz.low;
    const high = guard.keepHighHz ?? usualKeepBandHz.high;
    if (low < high) return [];
    const key = guard.keepLowHz === undefined ? 'keepHighHz' : 'keepLowHz';
    const unsaid = guard.keepLowHz === undefined || guard.keepHighHz === undefined;
    const message = `The band to keep goes from ${low} Hz to ${high} Hz; keepLowHz must be below keepHighHz${unsaid ? `, which are ${usualKeepBandHz.low} and ${usualKeepBandHz.high} where not given` : ''}.`;
    return [problem(keepBand.name, `guard.${key}`, message)];
  },
};
