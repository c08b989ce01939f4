import type { IntentsDocument } from '../model/intent.js';
import type { Journal } from '../model/journal.js';
import { type Problem, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Rig } from '../model/rig.js';
import type { Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { didYouMean } from '../units/suggest.js';

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

/** What a document calls itself in `format`, and what people call it, with an article. */
const known: {
  readonly [Name in DocumentName]: readonly [format: Documents[Name]['format'], words: string];
} = {
  rig: ['bandwright-rig/1', 'a rig'],
  intents: ['bandwright-intents/1', 'an intents file'],
  target: ['bandwright-target/1', 'a target'],
  recipe: ['bandwright-recipe/1', 'a recipe'],
  journal: ['bandwright-journal/1', 'a journal'],
};

export const documentNames = Object.keys(known) as readonly DocumentName[];

const formatOf = (name: DocumentName): string => known[name][0];
const wordsFor = (name: DocumentName): string => known[name][1];

/** Which document a format names; undefined for a format that is none of ours. */
export const documentNamed = (format: unknown): DocumentName | undefined =>
  documentNames.find((name) => formatOf(name) === format);

/** Which document this is. Throws RangeError for what is none: the types do not allow it. */
export const documentNameOf = ({ format }: AnyDocument): DocumentName => {
  const name = documentNamed(format);
  if (name === undefined) throw new RangeError(`no document has the format ${format}`);
  return name;
};

const strangeFormat = (format: unknown, expected: readonly DocumentName[]): string => {
  const formats = expected.map(formatOf);
  const reads = formats.join(' or ');
  if (typeof format !== 'string') return `${quote(format)} is no format. Allowed: ${reads}.`;
  const family = format.replace(/\d+$/, '');
  return formats.some((each) => each.replace(/\d+$/, '') === family)
    ? `${quote(format)} is another version of this format; this version of bandwright reads ${reads}.`
    : `${quote(format)} is not a format known here${didYouMean(format, formats) || '.'} Allowed: ${reads}.`;
};

/** What to do, as a sentence, with a document that is none of those expected. */
export type InsteadOf = Readonly<Partial<Record<DocumentName, string>>>;

/** Why a document is none of those expected, by its `format`: that one mistake stands for all that follow. */
export const formatProblem = (
  document: unknown,
  expected: readonly DocumentName[],
  instead: InsteadOf = {},
): Problem => {
  const words = expected.map(wordsFor).join(' or ');
  if (typeof document !== 'object' || document === null || Array.isArray(document)) {
    const stands = Array.isArray(document) ? 'a list' : quote(document);
    return problem('wrong-type', '', `The file holds ${stands}, but ${words} is one object.`);
  }
  const { format } = document as { readonly format?: unknown };
  if (format === undefined) {
    const message = `"format" is missing; it tells what the file is. Allowed: ${expected.map(formatOf).join(' or ')}.`;
    return problem('missing-key', 'format', message);
  }
  const actual = documentNamed(format);
  if (actual === undefined) return problem('wrong-format', 'format', strangeFormat(format, expected));
  const message = `This file is ${wordsFor(actual)}, but ${words} belongs here.`;
  return problem('wrong-format', 'format', [message, instead[actual]].filter(Boolean).join(' '));
};
