import type { Desk } from '../../model/desk.js';
import { differingNames } from '../write/names.js';
import type { SurveyedMix } from '../write/survey.js';
import { inspectOutput } from './inspect-output.js';
import type { InspectedMix, InspectionContext, PilotState } from './inspection.js';

/** From best to worst: one leg that is known to fail fails the mix, whatever the other may be. */
const worstLast: readonly PilotState[] = ['safe', 'not-known', 'at-risk'];

/** What a mix that was read does to its pilot; nothing is read or written here. */
export const inspectMix = (mix: SurveyedMix, desk: Desk, context: InspectionContext): InspectedMix => {
  const { name, outputs } = mix.plan;
  const places = [...new Set(mix.slots.map(({ plan }) => plan.output))];
  const read = places.map((output) =>
    inspectOutput(
      output,
      mix.slots.filter(({ plan }) => plan.output === output),
      desk,
      context,
    ),
  );
  const states = read.map(({ state }) => state);
  const isNamedOtherwise = (told: string | null): boolean =>
    differingNames([{ ...mix, names: [told] }]).length > 0;
  return {
    name,
    outputs,
    state: worstLast.findLast((state) => states.includes(state)) ?? 'not-known',
    scope: context.scope,
    keepLossAsAskedDb: context.keepLossAsAskedDb,
    recipe: null,
    read,
    otherNames: mix.names.flatMap((told, index) => {
      const output = outputs[index];
      return output !== undefined && isNamedOtherwise(told) ? [{ output, name: told }] : [];
    }),
  };
};
