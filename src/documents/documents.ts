import type { IntentsDocument } from '../model/intent.js';
import type { Journal } from '../model/journal.js';
import { type Problem, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Rig } from '../model/rig.js';
import type { Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { didYouMean } from '../units/suggest.js';
import * as validators from './generated/validators.js';
import { intentsRules } from './rules/intents.js';
import { journalRules } from './rules/journal/journal.js';
import { recipeRules } from './rules/recipe.js';
import { rigRules } from './rules/rig/rig.js';
import type { Rule } from './rules/rule.js';
import { targetRules } from './rules/target/target.js';
import type { Validator } from './schema.js';

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
export interface DocumentKind<Document> {
  readonly format: AnyDocument['format'];
  /** In words, with an article. */
  readonly words: string;
  readonly schemaFile: string;
  readonly validate: Validator<Document>;
  /** What holds for a document that `validate` has passed. */
  readonly rules: readonly Rule<Document>[];
}

type DocumentKinds = { readonly [Name in DocumentName]: DocumentKind<Documents[Name]> };

export const documentKinds: DocumentKinds = {
  rig: {
    format: 'bandwright-rig/1',
    words: 'a rig',
    schemaFile: 'rig.schema.json',
    validate: validators.rig,
    rules: rigRules,
  },
  intents: {
    format: 'bandwright-intents/1',
    words: 'an intents file',
    schemaFile: 'intents.schema.json',
    validate: validators.intents,
    rules: intentsRules,
  },
  target: {
    format: 'bandwright-target/1',
    words: 'a target',
    schemaFile: 'target.schema.json',
    validate: validators.target,
    rules: targetRules,
  },
  recipe: {
    format: 'bandwright-recipe/1',
    words: 'a recipe',
    schemaFile: 'recipe.schema.json',
    validate: validators.recipe,
    rules: recipeRules,
  },
  journal: {
    format: 'bandwright-journal/1',
    words: 'a journal',
    schemaFile: 'journal.schema.json',
    validate: validators.journal,
    rules: journalRules,
  },
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

const either = (names: readonly DocumentName[], key: 'words' | 'format'): string =>
  names.map((name) => documentKinds[name][key]).join(' or ');

const strangeFormat = (format: unknown, expected: readonly DocumentName[]): string => {
  const reads = either(expected, 'format');
  const known = expected.map((name) => documentKinds[name].format);
  if (typeof format !== 'string') return `${quote(format)} is no format. Allowed: ${reads}.`;
  const family = format.replace(/\d+$/, '');
  return known.some((each) => each.replace(/\d+$/, '') === family)
    ? `${quote(format)} is another version of this format; this version of bandwright reads ${reads}.`
    : `${quote(format)} is not a format known here${didYouMean(format, known) || '.'} Allowed: ${reads}.`;
};

/** What to do, as a sentence, with a document that is none of those expected. */
export type InsteadOf = Readonly<Partial<Record<DocumentName, string>>>;

/** Why a document is none of those expected, by its `format`: that one mistake stands for all that follow. */
export const formatProblem = (
  document: unknown,
  expected: readonly DocumentName[],
  instead: InsteadOf = {},
): Problem => {
  const words = either(expected, 'words');
  if (typeof document !== 'object' || document === null || Array.isArray(document)) {
    const stands = Array.isArray(document) ? 'a list' : quote(document);
    return problem('wrong-type', '', `The file holds ${stands}, but ${words} is one object.`);
  }
  const { format } = document as { readonly format?: unknown };
  if (format === undefined) {
    const message = `"format" is missing; it tells what the file is. Allowed: ${either(expected, 'format')}.`;
    return problem('missing-key', 'format', message);
  }
  const actual = documentNamed(format);
  if (actual === undefined) return problem('wrong-format', 'format', strangeFormat(format, expected));
  const message = `This file is ${documentKinds[actual].words}, but ${words} belongs here.`;
  return problem('wrong-format', 'format', [message, instead[actual]].filter(Boolean).join(' '));
};
