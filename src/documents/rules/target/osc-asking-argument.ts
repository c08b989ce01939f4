import { problem } from '../../../model/problem.js';
import type { OscAddressed, OscEncoding, Target } from '../../../model/target.js';
import { typeWords } from '../../../model/words.js';
import { quote } from '../../../units/quote.js';
import type { Rule } from '../rule.js';
import { offeredTypes } from './slot-type-rule.js';

/** What a text that travels may say, besides numbers. */
const wordsOf = (name: OscAddressed, target: Target): readonly string[] => {
  if (name === 'on') return ['on', 'off'];
  if (name !== 'type') return [];
  return offeredTypes(target).map(({ type }) => target.display.typeLabels?.[type] ?? typeWords[type]);
};

/** What a desk that is asked by a text may take for a value: a parameter that travels as text and may say the same. */
const mistakenFor = (text: string, target: Target): string | undefined => {
  const encodings = Object.entries(target.osc?.encodings ?? {}) as [OscAddressed, OscEncoding][];
  const isNumber = /^[+-]?\.?\d/.test(text);
  return encodings.find(
    ([name, { type }]) =>
      type === 's' &&
      (isNumber || wordsOf(name, target).some((word) => word.toLowerCase() === text.toLowerCase())),
  )?.[0];
};

/** A desk that is asked by an argument cannot take it for a value: asking must never set anything. */
export const oscAskingArgument: Rule<Target> = {
  name: 'osc-asking-argument',
  check: (target) => {
    const read = target.osc?.read;
    if (read === undefined || typeof read === 'string' || read.by !== 'argument') return [];
    const { type, text } = read.argument;
    const at = (message: string) => [problem(oscAskingArgument.name, 'osc.read.argument.text', message)];
    if (type !== 's') {
      return text === undefined ? [] : at(`OSC type ${quote(type)} carries no text; take it out.`);
    }
    if (text === undefined) return at('OSC type "s" carries a text, and none is given; give it, as in "?".');
    const mistaken = mistakenFor(text, target);
    return mistaken === undefined
      ? []
      : at(
          `${quote(text)} could be a value of ${mistaken}, which travels as text: asking would set it. Ask by a text that no filter can be set to, as in "?".`,
        );
  },
};
