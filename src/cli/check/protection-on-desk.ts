import type { TradeoffContext } from '../../fitting/tradeoff.js';
import type { Intent } from '../../model/intent.js';
import type { Outcome } from '../../model/problem.js';
import { protectiveIntents, usualSystem } from '../../model/protection.js';
import { fail, ok } from '../../units/result.js';
import { guardOptionProblem } from '../guard-option-problem.js';
import { loadDesk } from '../load.js';
import { type OneDeskOptions, scopeOf } from './check-options.js';

/** The usual protective filters of an FM stereo link, and all of a desk to set them on. */
export interface ProtectionOnDesk {
  readonly intents: readonly Intent[];
  readonly context: TradeoffContext;
}

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
