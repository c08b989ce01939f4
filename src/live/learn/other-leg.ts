import type { Desk } from '../../model/desk.js';
import { deskPairs } from '../../model/pairs.js';
import { type Problem, problem } from '../../model/problem.js';
import { saysTheSame } from '../../osc/encodings/registry.js';
import { readbackType, showArgument } from '../plan/readback.js';
import type { SurveyedMix } from '../write/survey.js';

/** The other leg of a pair, where the target says which that is. */
export const partnerOf = (output: number, { target }: Desk): number | null => {
  if (target.outputs.stereo !== 'legs-share') return null;
  const pairs = deskPairs(target.outputs);
  const pair = pairs === 'any' ? undefined : pairs.find((legs) => legs.includes(output));
  return pair?.find((leg) => leg !== output) ?? null;
};

/** Everything in which two outputs stand otherwise, as a phrase each: `frequency of slot 1: 101 Hz and 2.00 kHz`. */
const differences = (one: SurveyedMix, other: SurveyedMix, desk: Desk): readonly string[] =>
  one.slots.flatMap(({ plan, found }) => {
    const there = other.slots.find((slot) => slot.plan.slot.id === plan.slot.id);
    if (!there) return [];
    const [type, typeThere] = [readbackType(plan, found, desk), readbackType(there.plan, there.found, desk)];
    return plan.parameters.flatMap((parameter) => {
      const [here, beside] = [found.get(parameter.name), there.found.get(parameter.name)];
      if (!here || !beside || saysTheSame(here, beside)) return [];
      const shown = `${showArgument(parameter, here, type)} and ${showArgument(parameter, beside, typeThere)}`;
      return [`${parameter.name} of slot ${plan.slot.id}: ${shown}`];
    });
  });

const outputOf = ({ plan: { outputs } }: SurveyedMix): string => outputs.join(', ');

/** Why an output is not turned whose other leg stands otherwise: what goes along could not be put back. Null where it does not. */
export const differingLegs = (mix: SurveyedMix, other: SurveyedMix, desk: Desk): Problem | null => {
  const apart = differences(mix, other, desk);
  if (apart.length === 0) return null;
  const [one, two] = [outputOf(mix), outputOf(other)];
  const more = apart.length > 3 ? `, and ${apart.length - 3} more` : '';
  const told = `By the target outputs ${one} and ${two} share their filters, and they stand otherwise (${apart.slice(0, 3).join('; ')}${more}). What goes along on output ${two} could not be put back, so nothing was written. Copy one onto the other on the desk, name another output, or say legs-separate in outputs.stereo of the target if they do not share.`;
  return problem('legs-differ', 'output', told);
};

/** That the other leg does not stand as it was found, or that nothing shows it does. */
export const otherwiseNow = (
  before: SurveyedMix,
  now: SurveyedMix | null,
  desk: Desk,
): readonly Problem[] => {
  const two = outputOf(before);
  if (now === null) {
    const told = `Output ${two}, the other leg, could not be read again: whether it stands as it was found is not known. Look at it on the desk.`;
    return [problem('legs-differ', 'output', told)];
  }
  const apart = differences(before, now, desk);
  if (apart.length === 0) return [];
  const told = `Output ${two}, the other leg, went along and does not stand as it was found (${apart.join('; ')}: found and read now). Nothing was written to it. Set it on the desk.`;
  return [problem('legs-differ', 'output', told)];
};
