import { knobNames } from '../../../model/knob.js';
import { problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';
import { offeredTypes } from './slot-type-rule.js';

/** OSC sets only knobs that some slot has. */
export const oscReachesKnobs: Rule<Target> = {
  name: 'osc-reaches-knobs',
  check: (target) => {
    const { osc } = target;
    if (!osc) return [];
    const offered = offeredTypes(target);
    return knobNames
      .filter((knob) => osc.addresses[knob] !== undefined)
      .filter((knob) => offered.every((each) => each.offered[knob] === undefined))
      .map((knob) =>
        problem(
          oscReachesKnobs.name,
          `osc.addresses.${knob}`,
          `No slot has a ${knob} knob, so nothing would be sent here; take ${knob} out of osc, or give a slot the knob.`,
        ),
      );
  },
};
