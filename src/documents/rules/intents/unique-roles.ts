import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { repeated } from '../repeated.js';
import type { Rule } from '../rule.js';
import type { IntentsHolder } from './intent-rule.js';

/** Filters are told apart by their roles. */
export const uniqueRoles: Rule<IntentsHolder> = {
  name: 'unique-roles',
  check: ({ intents = [] }) =>
    repeated(intents.map(({ role }) => role)).map(({ name, index, firstIndex }) =>
      problem(
        uniqueRoles.name,
        `intents[${index}].role`,
        `The role ${quote(name)} is that of intents[${firstIndex}] already; give each intent a role of its own.`,
      ),
    ),
};
