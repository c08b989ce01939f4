import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { foundOnceRule } from './found-values.js';

/** No two found values are put back to one address; the second would overwrite the first. */
export const foundAddressesDiffer = foundOnceRule(
  'found-addresses-differ',
  ({ value }) => value.address,
  ({ value, path }, first) =>
    problem(
      foundAddressesDiffer.name,
      `${path}.address`,
      `${quote(value.address)} is the address of ${first.path} already; one would overwrite the other. Correct one of them.`,
    ),
);
