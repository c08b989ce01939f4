import type { Desk } from '../../model/desk.js';
import { type Problem, problem } from '../../model/problem.js';
import type { OscAddressed } from '../../model/target.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import type { OscArgument } from '../../osc/message.js';
import type { NamePlace } from '../../osc/mix-on-target.js';
import { printable, quote } from '../../units/quote.js';
import type { MixPlan, SlotPlan } from '../plan/plan.js';
import type { Readback } from '../plan/readback.js';
import type { Job, JobResult, Session } from '../session/session.js';
import { nextSteps } from './next-steps.js';

export interface SurveyedSlot {
  readonly plan: SlotPlan;
  readonly found: Readback;
  /** What is known to stand there since, where it has been written to already; left out where it has not. */
  readonly stands?: Readback;
}

/** One mix as it was found, before anything is written. */
export interface SurveyedMix {
  readonly plan: MixPlan;
  readonly slots: readonly SurveyedSlot[];
  /** Its outputs' names on the desk; null for one that told none. */
  readonly names: readonly (string | null)[];
  /** Why it cannot be written to: something did not answer, or not as the target says. */
  readonly problems: readonly Problem[];
  /** Whether anything stands otherwise than wanted. */
  readonly differs: boolean;
}

/** A mix nothing is known of yet. */
export const unsurveyed = (plan: MixPlan): SurveyedMix => ({
  plan,
  slots: plan.slots.map((slot) => ({ plan: slot, found: new Map() })),
  names: [],
  problems: [],
  differs: true,
});

/** Whether two surveys of the same mixes found the same, to the last digit and letter. */
export const foundAlike = (before: readonly SurveyedMix[], now: readonly SurveyedMix[]): boolean =>
  before.every(
    (mix, index) =>
      mix.names.every((name, at) => name === now[index]?.names[at]) &&
      mix.slots.every(({ found }, at) => {
        const other = now[index]?.slots[at]?.found;
        return (
          other?.size === found.size &&
          [...found].every(([name, argument]) => {
            const read = other.get(name);
            return read !== undefined && saysTheSame(argument, read);
          })
        );
      }),
  );

interface Asked {
  readonly what: string;
  readonly job: Job;
  readonly parameter: OscAddressed;
}

/** What a journal can hold of a text. */
const longestText = 1000;

const asType =
  (type: OscArgument['type']) =>
  (read: OscArgument): string | null => {
    if (read.type !== type) return `it came as ${read.type}, and the target says ${type}`;
    const value = 'value' in read ? read.value : null;
    if (typeof value === 'string' && (value.length > longestText || printable(value) !== value))
      return 'it is a text that no file could keep as it is';
    return typeof value === 'number' && !Number.isFinite(value) ? `${value} is no number` : null;
  };

/** Reads one value, and takes it only as the type it is to come as. */
export const readJob = ({ address, question }: NamePlace, type: OscArgument['type']): Job => ({
  address,
  question,
  write: null,
  judge: asType(type),
});

const askedOf = (mix: MixPlan): readonly Asked[] => [
  ...mix.namePlaces.map(
    (place, index): Asked => ({
      what: `the name of output ${mix.outputs[index] ?? ''}`,
      job: readJob(place, 's'),
      parameter: 'outputName',
    }),
  ),
  ...mix.slots.flatMap(({ output, slot, parameters }) =>
    parameters.map(
      (parameter): Asked => ({
        what: `${parameter.name} of slot ${slot.id}, output ${output},`,
        job: readJob(parameter, parameter.encoding.type),
        parameter: parameter.name,
      }),
    ),
  ),
];

const unread = ({ what, job }: Asked, result: JobResult, mix: string): Problem | null => {
  if (result.kind === 'held' || result.kind === 'stopped') return null;
  const why = result.kind === 'silent' ? 'nothing came back' : result.why;
  return problem(
    result.kind === 'silent' ? 'address-silent' : 'answer-unfit',
    `mixes[${quote(mix)}]`,
    `Asked for ${what} at ${job.question?.message.address ?? job.address}: ${why}. What stands there is not known, so ${quote(mix)} can be neither judged nor written to. Compare the target's osc with the desk's manual.`,
  );
};

/**
 * Reads everything that stands in the slots of a plan, and the names of its outputs. It writes nothing. Mixes
 * come back in order; where the session is lost or it was stopped, none do.
 */
export const survey = async (
  plans: readonly MixPlan[],
  desk: Desk,
  session: Session,
  signal: AbortSignal,
): Promise<readonly SurveyedMix[] | null> => {
  const asked = plans.map(askedOf);
  const results = await session.exchange(
    asked.flat().map(({ job }) => job),
    signal,
  );
  if (session.lost() !== null || results.some(({ kind }) => kind === 'stopped')) return null;
  const answers = new Map<string, OscArgument>();
  const problems = new Map<string, Problem[]>();
  let at = 0;
  plans.forEach((plan, index) => {
    for (const each of asked[index] ?? []) {
      const result = results[at++];
      if (!result) continue;
      if (result.kind === 'held') answers.set(each.job.address, result.read);
      // A name that is not told is for the comparison of names to judge.
      const why = each.parameter === 'outputName' ? null : unread(each, result, plan.name);
      if (why) problems.set(plan.name, [...(problems.get(plan.name) ?? []), why]);
    }
  });
  return plans.map((plan) => {
    const slots = plan.slots.map((slot) => ({
      plan: slot,
      found: new Map(
        slot.parameters.flatMap(({ name, address }) => {
          const answer = answers.get(address);
          return answer ? [[name, answer] as const] : [];
        }),
      ),
    }));
    return {
      plan,
      slots,
      names: plan.namePlaces.map(({ address }) => {
        const answer = answers.get(address);
        return answer?.type === 's' ? answer.value : null;
      }),
      problems: problems.get(plan.name) ?? [],
      differs: slots.some((slot) => nextSteps(slot.plan, slot.found, desk, true).length > 0),
    };
  });
};
