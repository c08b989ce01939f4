import fc from 'fast-check';
import { nasty, pieces } from './plain.js';

/** Any JSON value, with text that JSON can hold and XML cannot, and no key that is never allowed. */
const jsonText = pieces(
  fc.oneof(
    fc.constantFrom(
      ...nasty,
      '\0',
      '\u001b',
      '\n',
      '\t',
      '\r',
      '\ud800',
      '\udfff',
      '\ufffe',
      '\uffff',
      '\u2028',
      '\u0085',
    ),
    fc.string({ unit: 'binary', maxLength: 3 }),
  ),
  4,
);
export const forbidden = ['__proto__', 'constructor', 'prototype'];
const jsonNumber = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
export const { json } = fc.letrec<{ json: unknown }>((tie) => ({
  json: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    fc.oneof(fc.constant(null), fc.boolean(), jsonNumber, jsonText, fc.constant('')),
    fc.array(tie('json'), { maxLength: 3 }),
    fc.dictionary(
      jsonText.filter((key) => !forbidden.includes(key)),
      tie('json'),
      { maxKeys: 3, noNullPrototype: true },
    ),
  ),
}));
