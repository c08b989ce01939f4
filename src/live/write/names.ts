import { type Problem, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import type { Session } from '../session/session.js';
import { readJob, type SurveyedMix } from './survey.js';

/** Names are the same whatever their case and spaces. */
const plain = (name: string): string => name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();

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

/** Every mix whose outputs go by other names on the desk than they are to: it may be somebody else's. */
export const differingNames = (mixes: readonly SurveyedMix[]): readonly Problem[] =>
  mixes.flatMap((mix) => {
    const { name, outputNames, outputs } = mix.plan;
    const other = otherNamesOf(mix).map((each) => {
      const told = each.name === null ? 'tells no name' : `is called ${quote(each.name)}`;
      return `output ${each.output} ${told}, not ${quote(outputNames[outputs.indexOf(each.output)])}`;
    });
    if (other.length === 0) return [];
    const told = `On the desk ${other.join(' and ')}. Nothing was written. Check that these are the outputs of ${quote(name)} still; then ask for it with acceptNames, or correct the name.`;
    return [problem('name-differs', `mixes[${quote(name)}]`, told)];
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
