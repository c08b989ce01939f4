import type { Journal } from '../../../model/journal.js';
import { joinPaths } from '../../../model/problem.js';
import type { Target } from '../../../model/target.js';
import type { Rule } from '../rule.js';

/** A rule about targets, held to the target inside a journal. */
export const inTarget = ({ name, check }: Rule<Target>): Rule<Journal> => ({
  name,
  check: ({ target }) => check(target).map((each) => ({ ...each, path: joinPaths('target', each.path) })),
});
