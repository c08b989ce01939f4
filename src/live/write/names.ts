import { type Problem, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';
import type { SurveyedMix } from './survey.js';

/** Names are the same whatever their case and spaces. */
const plain = (name: string): string => name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();

/** Every mix whose outputs go by another name on the desk than in the recipe: it may be somebody else's. */
export const differingNames = (mixes: readonly SurveyedMix[]): readonly Problem[] =>
  mixes.flatMap(({ plan, names }) => {
    const other = names.flatMap((name, index) =>
      name !== null && plain(name) === plain(plan.name)
        ? []
        : [`output ${plan.outputs[index]} ${name === null ? 'tells no name' : `is called ${quote(name)}`}`],
    );
    return other.length === 0
      ? []
      : [
          problem(
            'name-differs',
            `mixes[${quote(plan.name)}]`,
            `On the desk ${other.join(' and ')}, not ${quote(plan.name)}. Nothing was written. Check that the recipe's outputs are the right ones; then add --accept-names, or correct the name.`,
          ),
        ];
  });
