import type { Shortcoming } from '../fitting/fit.js';
import type { MissingFilter } from '../model/recipe.js';

/** The filters that shortcomings tell are not there. */
export const missingOf = (shortcomings: readonly Shortcoming[]): readonly MissingFilter[] =>
  shortcomings.flatMap(({ kind, intent: { role, type } }) =>
    kind === 'no-place' || kind === 'left-out' ? [{ role, type, why: kind }] : [],
  );
