import { type Problem, problem } from '../../../model/problem.js';
import type { OscEncoding, OscParameter, Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';

const wholeNumbers: readonly string[] = ['i', 'h'];

const faultOf = (parameter: OscParameter, { as, type }: OscEncoding): string | null => {
  if (as === 'text' && type !== 's') return `text travels as OSC type "s", not ${quote(type)}`;
  if (as === 'fraction' && wholeNumbers.includes(type)) {
    return `a fraction from 0 to 1 is lost in the whole number that OSC type ${quote(type)} is; write "f" or "d"`;
  }
  if (as === 'engineering' && (parameter === 'type' || parameter === 'on')) {
    return `${parameter} has no value in Hz or dB; write "index"`;
  }
  return null;
};

/** An encoding says a way of travelling that keeps the value. */
export const oscEncodings: Rule<Target> = {
  name: 'osc-encodings',
  check: ({ osc }) =>
    (Object.entries(osc?.encodings ?? {}) as [OscParameter, OscEncoding][]).flatMap(
      ([parameter, encoding]): readonly Problem[] => {
        const fault = faultOf(parameter, encoding);
        return fault === null
          ? []
          : [problem(oscEncodings.name, `osc.encodings.${parameter}`, `This cannot be sent: ${fault}.`)];
      },
    ),
};
