import type { IntentsDocument } from '../model/intent.js';
import type { Journal } from '../model/journal.js';
import type { Problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Rig } from '../model/rig.js';
import type { Target } from '../model/target.js';
import * as validators from './generated/validators.js';
import { intentsRules } from './rules/intents/registry.js';
import { journalRules } from './rules/journal/registry.js';
import { recipeRules } from './rules/recipe/registry.js';
import { rigRules } from './rules/rig/registry.js';
import type { Rule } from './rules/rule.js';
import { targetRules } from './rules/target/registry.js';
import type { Validator } from './validator.js';

/** The documents there are, by the names their files and XML root elements go by. */
export interface Documents {
  readonly rig: Rig;
  readonly intents: IntentsDocument;
  readonly target: Target;
  readonly recipe: Recipe;
  readonly journal: Journal;
}

export type DocumentName = keyof Documents;

export type AnyDocument = Documents[DocumentName];

/** How a document is known and checked. */
export interface DocumentKind {
  readonly format: AnyDocument['format'];
  /** In words, with an article. */
  readonly words: string;
  readonly schemaFile: string;
  readonly validate: Validator;
  /** What the rules say of a document that `validate` has passed. */
  breaches(document: unknown): readonly Problem[];
}

const kind = <Document extends AnyDocument>(
  format: Document['format'],
  words: string,
  schemaFile: string,
  validate: Validator,
  rules: readonly Rule<Document>[],
): DocumentKind => ({
  format,
  words,
  schemaFile,
  validate,
  breaches: (document) => rules.flatMap((rule) => rule.check(document as Document)),
});

export const documentKinds: Readonly<Record<DocumentName, DocumentKind>> = {
  rig: kind<Rig>('bandwright-rig/1', 'a rig', 'rig.schema.json', validators.rig, rigRules),
  intents: kind<IntentsDocument>(
    'bandwright-intents/1',
    'an intents file',
    'intents.schema.json',
    validators.intents,
    intentsRules,
  ),
  target: kind<Target>(
    'bandwright-target/1',
    'a target',
    'target.schema.json',
    validators.target,
    targetRules,
  ),
  recipe: kind<Recipe>(
    'bandwright-recipe/1',
    'a recipe',
    'recipe.schema.json',
    validators.recipe,
    recipeRules,
  ),
  journal: kind<Journal>(
    'bandwright-journal/1',
    'a journal',
    'journal.schema.json',
    validators.journal,
    journalRules,
  ),
};

export const documentNames = Object.keys(documentKinds) as readonly DocumentName[];

/** Which document a format names; undefined for a format that is none of ours. */
export const documentNamed = (format: unknown): DocumentName | undefined =>
  documentNames.find((name) => documentKinds[name].format === format);

/** Which document this is. Throws RangeError for what is none: the types do not allow it. */
export const documentNameOf = ({ format }: AnyDocument): DocumentName => {
  const name = documentNamed(format);
  if (name === undefined) throw new RangeError(`no document has the format ${format}`);
  return name;
};
