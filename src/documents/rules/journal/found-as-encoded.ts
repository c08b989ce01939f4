import { type Problem, problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { foundValueRule } from './found-values.js';

/** Every found value came as the target says it travels. */
export const foundAsEncoded = foundValueRule(
  'found-as-encoded',
  ({ value, path }, { target }): readonly Problem[] => {
    if (!target.osc) return [];
    const { parameter, argument } = value;
    const encoding = target.osc.encodings[parameter];
    if (encoding?.type === argument.type) return [];
    const message = encoding
      ? `The target says that ${parameter} travels as ${quote(encoding.type)}, not as ${quote(argument.type)}; correct one of them.`
      : `The target does not say how ${parameter} travels; complete its osc, or take this out.`;
    const place = encoding ? `${path}.argument.type` : `${path}.parameter`;
    return [problem(foundAsEncoded.name, place, message)];
  },
);
