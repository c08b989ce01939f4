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

const readJob = ({ address, question }: NamePlace, type: OscArgument['type']): Job => ({
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

/** Names are the same whatever their case and spaces. */
const plain = (name: string): string => name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();

/** Every mix whose outputs go by other names on the desk than they are to: it may be somebody else's. */
export const differingNames = (mixes: readonly SurveyedMix[]): readonly Problem[] =>
  mixes.flatMap(({ plan, names }) => {
    const other = names.flatMap((name, index) => {
      const wanted = plan.outputNames[index] ?? null;
      if (wanted === null || (name !== null && plain(name) === plain(wanted))) return [];
      const told = name === null ? 'tells no name' : `is called ${quote(name)}`;
      return [`output ${plan.outputs[index]} ${told}, not ${quote(wanted)}`];
    });
    return other.length === 0
      ? []
      : [
          problem(
            'name-differs',
            `mixes[${quote(plan.name)}]`,
            `On the desk ${other.join(' and ')}. Nothing was written. Check that these are the outputs of ${quote(plan.name)} still; then ask for it with acceptNames, or correct the name.`,
          ),
        ];
  });

/**
 * Every mix whose outputs go by other names than when it was read: the desk was renumbered, or set up anew, and what is
 * written would go to somebody else. Reads the names once more; where the session is lost nothing is told.
 */
export const renamedMixes = async (
  mixes: readonly SurveyedMix[],
  session: Session,
  signal: AbortSignal,
  hasWritten: boolean,
): Promise<readonly Problem[]> => {
  // A name that was not told then would be waited for in vain now.
  const told = mixes.flatMap(({ plan, names }) =>
    plan.namePlaces.flatMap((place, index) => {
      const before = names[index] ?? null;
      return before === null ? [] : [{ plan, output: plan.outputs[index], place, before }];
    }),
  );
  if (told.length === 0) return [];
  const results = await session.exchange(
    told.map(({ place }) => readJob(place, 's')),
    signal,
  );
  if (session.lost() !== null || results.some(({ kind }) => kind === 'stopped')) return [];
  const others = told.flatMap(({ plan, output, before }, at) => {
    const result = results[at];
    // Silence is no other name: an output that is gone does not answer for its filters either.
    if (result?.kind !== 'held' || result.read.type !== 's' || result.read.value === before) return [];
    const words = `output ${output} is called ${quote(result.read.value)} now, and was ${quote(before)}`;
    return [{ plan, words }];
  });
  return mixes.flatMap(({ plan }) => {
    const other = others.filter((each) => each.plan === plan).map(({ words }) => words);
    if (other.length === 0) return [];
    const message = `The desk was renamed or renumbered since it was read: ${other.join('; ')}. Nothing ${hasWritten ? 'more ' : ''}was written. See what stands there now before anything else.`;
    return [problem('desk-renamed', `mixes[${quote(plan.name)}]`, message)];
  });
};

/** An output that goes by another name on the desk than it is to; null: it told none. */
export interface OtherName {
  readonly mix: string;
  readonly output: number;
  readonly name: string | null;
}

/** Every output of a mix that goes by another name than it is to. */
export const otherNamesOf = ({ plan, names }: SurveyedMix): readonly OtherName[] =>
  names.flatMap((name, index) => {
    const [output, wanted] = [plan.outputs[index], plan.outputNames[index] ?? null];
    const isOther = wanted !== null && (name === null || plain(name) !== plain(wanted));
    return output !== undefined && isOther ? [{ mix: plan.name, output, name }] : [];
  });
