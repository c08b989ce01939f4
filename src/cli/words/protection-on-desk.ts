import type { ProtectionOnDesk } from '../../analysis/tradeoff.js';
import type { Outcome } from '../../model/problem.js';
import { protectiveIntents, usualSystem } from '../../model/protection.js';
import { fail, ok } from '../../units/result.js';
import { type OneDeskOptions, scopeOf } from '../check/check-options.js';
import { guardOptionProblem } from './guard-option-problem.js';
import { loadDesk } from './load-desk.js';

/** Loads the desk and settles what is asked of it; refuses options that make no sense there. */
export const protectionOnDesk = async (options: OneDeskOptions): Promise<Outcome<ProtectionOnDesk>> => {
  const desk = await loadDesk(options.target, options.quantiser);
  if (!desk.ok) return desk;
  const scope = scopeOf(options);
  const wrong = guardOptionProblem(options, scope, desk.value.target);
  if (wrong) return fail([wrong]);
  return ok({
    intents: protectiveIntents({ ...usualSystem, pilotHz: scope.pilotHz }),
    context: { desk: desk.value, slots: desk.value.slots, scope, spareSlots: options.spareSlots ?? 0 },
  });
};
