import type { Rig } from '../../../model/rig.js';
import { overlappingOutputs } from '../overlapping-outputs.js';
import type { Rule } from '../rule.js';

/** No desk output belongs to two mixes. */
export const outputsOfOneMix: Rule<Rig> = {
  name: 'outputs-of-one-mix',
  check: ({ mixes }) => overlappingOutputs(outputsOfOneMix.name, mixes),
};
