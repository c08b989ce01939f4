import { displayText } from '../../exporters/words/settings.js';
import { knobNames } from '../../model/knob.js';
import type { Outcome } from '../../model/problem.js';
import { protectiveIntents, usualSystem } from '../../model/protection.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { loadDesk } from '../../node/targets.js';
import type { ProtectionJob } from '../../node/threads/fit-job.js';
import { fail, ok } from '../../units/result.js';
import { deskGuardProblem, scopeOf } from './guard-option-problems.js';
import type { GuardOptions } from './guard-options.js';

/** Options of a command that sets the usual protective filters on one desk, without a rig. */
export interface ProtectionOptions extends GuardOptions {
  readonly target: string;
  readonly spareSlots: number;
  readonly quantiser: readonly string[];
}

/** Loads the desk and settles what is asked of it; refuses options that make no sense there. */
export const protectionOnDesk = async (options: ProtectionOptions): Promise<Outcome<ProtectionJob>> => {
  const desk = await loadDesk(options.target, options.quantiser);
  if (!desk.ok) return desk;
  const { target } = desk.value;
  const wrong = deskGuardProblem(options, target);
  if (wrong) return fail([wrong]);
  const scope = scopeOf(options);
  return ok({
    target,
    quantiserFiles: options.quantiser,
    spareSlots: options.spareSlots,
    intents: protectiveIntents({ ...usualSystem, pilotHz: scope.pilotHz }),
    scope,
  });
};

/** A filter as the desk shows it: `14.99 kHz, 24 dB/oct`. */
export const shownFilter = ({ steps }: PlacedFilter): string =>
  knobNames
    .flatMap((knob) => {
      const position = steps[knob];
      return position ? [displayText(knob, position)] : [];
    })
    .join(', ');
