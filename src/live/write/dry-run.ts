import type { Desk } from '../../model/desk.js';
import type { OscArgument, OscMessage } from '../../osc/message.js';
import type { MixPlan } from '../plan/plan.js';
import type { Job, JobResult, Session } from '../session/session.js';
import { executePlan } from './execute-plan.js';
import { type SurveyedMix, unsurveyed } from './survey.js';

/**
 * A session with a desk that does as it is told, given what stands on it: to find out what would be sent. `sent`
 * grows with every message that writes.
 */
const obedientSession = (
  standing: ReadonlyMap<string, OscArgument>,
): { readonly session: Session; readonly sent: readonly OscMessage[] } => {
  const known = new Map(standing);
  const sent: OscMessage[] = [];
  const obey = (message: OscMessage): void => {
    const [argument] = message.args;
    sent.push(message);
    if (argument) known.set(message.address, argument);
  };
  const answer = ({ address, write, judge }: Job): JobResult => {
    if (write) obey(write);
    const read = known.get(address);
    if (!read) return { kind: 'silent' };
    const why = judge(read);
    return why === null ? { kind: 'held', read } : { kind: 'otherwise', read, why };
  };
  const session: Session = {
    exchange: async (jobs) => jobs.map(answer),
    tell: async (messages) => {
      for (const message of messages) obey(message);
      return messages.length;
    },
    lost: () => null,
    refusal: () => null,
    written: () => known,
    counts: () => ({ sent: sent.length, heard: 0, strange: 0 }),
  };
  return { session, sent };
};

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
  const { session, sent } = obedientSession(standing);
  await executePlan(
    mixes.filter(({ differs }) => differs),
    {
      desk,
      session,
      canRead: surveyed !== null,
      clock: noClock,
      signal: never,
      hardSignal: never,
      onMix: () => undefined,
    },
  );
  return sent;
};
