import type { FilterType } from '../../../filters/filter.js';
import type { ProtectiveRole } from '../../../model/intent.js';
import { problem } from '../../../model/problem.js';
import { quote } from '../../../units/quote.js';
import { intentRule } from './intent-rule.js';

/** What a protective fit can move, or take another slope for. */
const movable: Readonly<Record<ProtectiveRole, readonly FilterType[]>> = {
  'low-cut': ['highpass'],
  'pilot-cut': ['peaking', 'notch'],
  'high-cut': ['lowpass'],
};

/** Leave to move a filter is given to one that would be moved. */
export const mayMove = intentRule('may-move', ({ role, type, mayMove: isAllowed }, path) => {
  const types = Object.hasOwn(movable, role) ? movable[role as ProtectiveRole] : [];
  if (!isAllowed || types.includes(type)) return [];
  const allowed = Object.entries(movable).map(([each, may]) => `${each} (${may.join(' or ')})`);
  return [
    problem(
      mayMove.name,
      `${path}.mayMove`,
      `The ${type} of role ${quote(role)} is never moved. Leave mayMove out, or give it to one of: ${allowed.join(', ')}.`,
    ),
  ];
});
