import { type GuardScope, guardScope } from '../guard/guard-scope.js';
import { usualPilotHz } from '../model/protection.js';
import type { FmStereoSystem, GuardWishes } from '../model/rig.js';

/** What the guard of a system's pilot is judged over: what the system tells of itself, and what a rig asks. */
export const systemScope = (system: FmStereoSystem, wishes: GuardWishes = {}): GuardScope =>
  guardScope(system.pilotHz ?? usualPilotHz, { ...system, ...wishes });
