import type { Recipe } from '../model/recipe.js';

/**
 * Every fit there is, by name, in the order people are offered them. Apart from the fits themselves, so that the
 * command line can tell the names without loading any.
 */
export const fitNames = ['nearest', 'match', 'protect'] as const satisfies readonly Recipe['fit'][];

export type FitName = (typeof fitNames)[number];
