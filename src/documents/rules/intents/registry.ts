import type { Rule } from '../rule.js';
import { familyBesideSlope } from './family-beside-slope.js';
import { gainWhereItActs } from './gain-where-it-acts.js';
import type { IntentsHolder } from './intent-rule.js';
import { linkwitzRileySlope } from './linkwitz-riley-slope.js';
import { mayMove } from './may-move.js';
import { oneWidthForm } from './one-width-form.js';
import { roleFitsType } from './role-fits-type.js';
import { uniqueRoles } from './unique-roles.js';

/** What holds for the intents of an intents file, and for those of a rig. */
export const intentsRules: readonly Rule<IntentsHolder>[] = [
  uniqueRoles,
  roleFitsType,
  oneWidthForm,
  gainWhereItActs,
  familyBesideSlope,
  linkwitzRileySlope,
  mayMove,
];
