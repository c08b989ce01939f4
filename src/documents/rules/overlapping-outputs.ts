import { type Problem, problem } from '../../model/problem.js';
import { quote } from '../../units/quote.js';

interface OutputUser {
  readonly name: string;
  readonly outputs: readonly number[];
}

/** Desk outputs that more than one mix claims; the filters of one would overwrite the other's. */
export const overlappingOutputs = (code: string, mixes: readonly OutputUser[]): readonly Problem[] => {
  const users = new Map<number, number>();
  const problems: Problem[] = [];
  for (const [index, { outputs }] of mixes.entries()) {
    for (const [place, output] of outputs.entries()) {
      const first = users.get(output);
      if (first === undefined) {
        users.set(output, index);
        continue;
      }
      const user = `mixes[${first}] ${quote(mixes[first]?.name)}`;
      const message = `Output ${output} is taken by ${user} already; each output belongs to one mix. Correct one of them.`;
      problems.push(problem(code, `mixes[${index}].outputs[${place}]`, message));
    }
  }
  return problems;
};
