import { pairNamed } from '../../../model/pairs.js';
import { type Problem, problem } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';

/** Pairs are told of a desk whose pairs share their filters; listed ones are of its outputs, each of one pair. */
export const outputPairs: Rule<Target> = {
  name: 'output-pairs',
  check: ({ outputs: { count, stereo, pairs } }) => {
    if (pairs === undefined) return [];
    if (stereo === 'legs-separate') {
      const message = `Where each output is dialled by itself ("legs-separate") any two may be a pair; take pairs out, or write "legs-share".`;
      return [problem(outputPairs.name, 'outputs.pairs', message)];
    }
    const placed = new Map<number, number>();
    return (typeof pairs === 'string' ? [] : pairs).flatMap((name, index): readonly Problem[] => {
      const pair = pairNamed(name);
      const [left, right] = pair;
      const path = `outputs.pairs[${index}]`;
      const told = (message: string): readonly Problem[] => [problem(outputPairs.name, path, message)];
      if (left === right) return told(`${quote(name)} is one output; a pair is two, as in "1/2".`);
      const beyond = pair.find((output) => output > count);
      if (beyond !== undefined) {
        return told(`Output ${beyond} is beyond the ${count} there are; correct it, or outputs.count.`);
      }
      const taken = pair.find((output) => placed.has(output));
      if (taken !== undefined) {
        const first = `outputs.pairs[${placed.get(taken)}]`;
        return told(`Output ${taken} is of ${first} already; it shares its filters with one other only.`);
      }
      for (const output of pair) placed.set(output, index);
      return [];
    });
  },
};
