import { usualPilotHz } from '../model/protection.js';
import type { FmStereoSystem, GuardWishes } from '../model/rig.js';
import { type GuardScope, guardScope } from '../multiplex/guard-scope.js';

/** What the guard of a system's pilot is judged over: what the system tells of itself, and what a rig asks. */
export const systemScope = (
  { pilotHz = usualPilotHz, preEmphasisMicroseconds, lineUpDbfs }: FmStereoSystem,
  wishes: GuardWishes = {},
): GuardScope =>
  guardScope(pilotHz, {
    ...wishes,
    ...(preEmphasisMicroseconds === undefined ? {} : { preEmphasisMicroseconds }),
    ...(lineUpDbfs === undefined ? {} : { lineUpDbfs }),
  });
