import { intents } from './documents/intents.js';
import { journal } from './documents/journal.js';
import { recipe } from './documents/recipe.js';
import { rig } from './documents/rig.js';
import { target } from './documents/target.js';

/**
 * Documents of every kind that fit their schemas and break no rule, with the nastiest text their fields
 * allow.
 */
export const documents = { rig, intents, target, recipe, journal } as const;
