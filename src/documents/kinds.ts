import type { DocumentName, Documents } from './documents.js';
import { intentsSchema } from './generated/intents-schema.js';
import { intentsValidator } from './generated/intents-validator.js';
import { journalSchema } from './generated/journal-schema.js';
import { journalValidator } from './generated/journal-validator.js';
import { recipeSchema } from './generated/recipe-schema.js';
import { recipeValidator } from './generated/recipe-validator.js';
import { rigSchema } from './generated/rig-schema.js';
import { rigValidator } from './generated/rig-validator.js';
import { targetSchema } from './generated/target-schema.js';
import { targetValidator } from './generated/target-validator.js';
import { intentsRules } from './rules/intents.js';
import { journalRules } from './rules/journal/journal.js';
import { recipeRules } from './rules/recipe.js';
import { rigRules } from './rules/rig/rig.js';
import type { Rule } from './rules/rule.js';
import { targetRules } from './rules/target/target.js';
import type { Schema, Validator } from './schema.js';

/** How a document is known and checked. */
export interface DocumentKind<Name extends DocumentName = DocumentName> {
  readonly name: Name;
  readonly schema: () => Schema;
  readonly validate: Validator<Documents[Name]>;
  /** What holds for a document that `validate` has passed. */
  readonly rules: readonly Rule<Documents[Name]>[];
}

// Each by itself, so that who reads one document bundles nothing of the others; and in functions what is generated, so
// that the program loads it where it is called.

export const rigKind: DocumentKind<'rig'> = {
  name: 'rig',
  schema: () => rigSchema(),
  validate: (value) => rigValidator(value),
  rules: rigRules,
};

export const intentsKind: DocumentKind<'intents'> = {
  name: 'intents',
  schema: () => intentsSchema(),
  validate: (value) => intentsValidator(value),
  rules: intentsRules,
};

export const targetKind: DocumentKind<'target'> = {
  name: 'target',
  schema: () => targetSchema(),
  validate: (value) => targetValidator(value),
  rules: targetRules,
};

export const recipeKind: DocumentKind<'recipe'> = {
  name: 'recipe',
  schema: () => recipeSchema(),
  validate: (value) => recipeValidator(value),
  rules: recipeRules,
};

export const journalKind: DocumentKind<'journal'> = {
  name: 'journal',
  schema: () => journalSchema(),
  validate: (value) => journalValidator(value),
  rules: journalRules,
};

/** Every kind there is. */
export const documentKinds = [rigKind, intentsKind, targetKind, recipeKind, journalKind] as const;
