import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { foundOnceRule } from './found-values.js';

/** Each parameter of a slot of an output was found once. */
export const foundOnce = foundOnceRule(
  'found-once',
  ({ value, slot }) => `${slot.output} ${slot.slot} ${value.parameter}`,
  ({ value, slot, path }, first) =>
    problem(
      foundOnce.name,
      `${path}.parameter`,
      `${value.parameter} of slot ${quote(slot.slot)}, output ${slot.output}, stands at ${first.path} already; it can be put back one way only. Take one of them out.`,
    ),
);
