import type { FilterType } from '../../../filters/filter.js';
import type { ProtectiveRole } from '../../../model/intent.js';
import { problem } from '../../../model/problem.js';
import { typeWords } from '../../../model/words.js';
import { quote } from '../../../units/quote.js';
import { intentRule } from './intent-rule.js';

/** A low cut is a highpass and a high cut a lowpass: taken for each other they would silence a mix. */
const typesFor: Readonly<Record<ProtectiveRole, readonly FilterType[]>> = {
  'low-cut': ['highpass', 'lowshelf'],
  'pilot-cut': ['notch', 'peaking', 'lowpass', 'highshelf'],
  'high-cut': ['lowpass', 'highshelf'],
};

/** An intent with a protective role has a type that can play it. */
export const roleFitsType = intentRule('role-fits-type', ({ role, type }, path) => {
  const types = Object.hasOwn(typesFor, role) ? typesFor[role as ProtectiveRole] : undefined;
  if (!types || types.includes(type)) return [];
  const stands = `The role ${quote(role)} is given to a ${type}, in words a ${typeWords[type]}`;
  return [problem(roleFitsType.name, `${path}.type`, `${stands}; allowed are ${types.join(', ')}.`)];
});
