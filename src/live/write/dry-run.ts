import type { Desk } from '../../model/desk.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import type { MixPlan } from '../plan/plan.js';
import { obedientLine } from '../session/blind-session.js';
import { carryOut } from './execute-plan.js';
import { type SurveyedMix, unsurveyed } from './survey.js';

const never = new AbortController().signal;

const noClock = { nowMs: () => 0, wait: async () => undefined, timeOfDay: () => '' };

/**
 * The messages that would write a plan, in order: given what stands on the desk, or, where nothing is known of
 * it, those that bring it there from anywhere.
 */
export const messagesFor = async (
  plans: readonly MixPlan[],
  surveyed: readonly SurveyedMix[] | null,
  desk: Desk,
): Promise<readonly OscMessage[]> => {
  const mixes = surveyed ?? plans.map(unsurveyed);
  const standing = new Map<string, OscArgument>();
  for (const { slots } of mixes) {
    for (const { plan, found } of slots) {
      for (const { name, address } of plan.parameters) {
        const argument = found.get(name);
        if (argument) standing.set(address, argument);
      }
    }
  }
  const { line, sent } = obedientLine(standing);
  await carryOut(
    mixes.filter(({ differs }) => differs),
    {
      desk,
      line,
      canRead: surveyed !== null,
      clock: noClock,
      signal: never,
      hardSignal: never,
      onMix: () => undefined,
    },
  );
  return sent;
};
