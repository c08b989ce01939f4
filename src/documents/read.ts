import type { IntentsDocument } from '../model/intent.js';
import type { Journal } from '../model/journal.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Rig } from '../model/rig.js';
import type { Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, type Result } from '../units/result.js';
import { decodeText } from './decode.js';
import {
  type AnyDocument,
  type DocumentName,
  type Documents,
  documentNamed,
  formatProblem,
  type InsteadOf,
} from './documents.js';
import type { Syntax } from './fault-words.js';
import { parseJson } from './json/parse-json.js';
import {
  type DocumentKind,
  documentKinds,
  intentsKind,
  journalKind,
  recipeKind,
  rigKind,
  targetKind,
} from './kinds.js';
import { decodeProblem, locate, textProblem } from './locate.js';
import { mostFaults, mostProblems, type Parsed } from './parsed.js';
import { tellFaults } from './tell-faults.js';
import { parseXml } from './xml/parse-xml.js';

export interface ReadOptions {
  /** What the text is called in problems: a file name, say. */
  readonly source: string;
  /** Told by the first character that is no space unless given. */
  readonly syntax?: Syntax;
  /** What is said, besides that it is refused, of a file that is another document than the one to be read. */
  readonly instead?: InsteadOf;
}

const syntaxOf = (text: string): Syntax | null => {
  const first = text.trimStart().charAt(0);
  if (first === '<') return 'xml';
  return first === '{' ? 'json' : null;
};

/** Whether a problem is at a place another is about, or inside it. */
const isWithin = (inner: string, outer: string): boolean =>
  inner === outer || (inner.startsWith(outer) && /^[.[]/.test(inner.slice(outer.length)));

/** Whether a problem only follows from another: at its place, inside it, or a count that lacks it. */
const follows = (each: Problem, from: Problem): boolean =>
  isWithin(each.path, from.path) || (each.code === 'wrong-count' && isWithin(from.path, each.path));

/** What is wrong with a document; `isCut` where more than that was found and not looked at. */
interface Findings {
  readonly problems: readonly Problem[];
  readonly isCut: boolean;
}

/**
 * A parsed document, or everything wrong with it: what its text shows, what its schema says, and, where both find
 * nothing, what the rules say. What only follows from what the text shows is not told again.
 */
const checkParsed = <Name extends DocumentName>(
  { value, problems }: Parsed,
  { validate, schema, rules }: DocumentKind<Name>,
  syntax: Syntax,
): Result<Documents[Name], Findings> => {
  const isCut = problems.length > mostProblems;
  const valid = validate(value);
  if (valid.ok) {
    const found = problems.length > 0 ? problems : rules.flatMap((rule) => rule.check(valid.value));
    return found.length > 0 ? fail({ problems: found, isCut }) : valid;
  }
  const faults = valid.error;
  const told = tellFaults(faults, value, schema(), syntax);
  const own = told.filter((each) => !problems.some((known) => follows(each, known)));
  return fail({ problems: [...problems, ...own], isCut: isCut || faults.length > mostFaults });
};

const mostPlaces = 3;

/** One problem for all that say the same of different places: a word written wrong ten times is one mistake. */
const alikeTogether = ({ problems, isCut }: Findings): readonly Problem[] => {
  const alike = new Map<string, Problem[]>();
  for (const each of problems) {
    const key = `${each.code}\n${each.message}`;
    const found = alike.get(key);
    if (found) found.push(each);
    else alike.set(key, [each]);
  }
  return [...alike.values()].flatMap(([first, ...others]) => {
    if (!first || others.length === 0) return first ?? [];
    const shown = others.slice(0, mostPlaces).map(({ path }) => path);
    const more = others.length > mostPlaces ? ` and ${others.length - mostPlaces} more` : '';
    const count = `${others.length} more place${others.length === 1 ? '' : 's'}${isCut ? ' at least' : ''}`;
    return { ...first, message: `${first.message} So it is at ${count}: ${shown.join(', ')}${more}.` };
  });
};

const atMost = (problems: readonly Problem[], isCut: boolean): readonly Problem[] =>
  problems.length <= mostProblems && !isCut
    ? problems
    : [
        ...problems.slice(0, mostProblems),
        problem('more-problems', '', 'There are more problems than are told here; mend these first.'),
      ];

/** Reads a document of one of some kinds, told by its `format`; otherwise as `readDocument`. */
export const readOneOf = <Name extends DocumentName>(
  input: Uint8Array | string,
  { source, syntax: told, instead }: ReadOptions,
  expected: readonly DocumentKind<Name>[],
): Outcome<Documents[Name]> => {
  const decoded = decodeText(input);
  if (!decoded.ok) return fail([decodeProblem(decoded.error, source)]);
  const text = decoded.value;
  const syntax = told ?? syntaxOf(text);
  if (syntax === null) {
    const offset = text.length - text.trimStart().length;
    const first = quote(text.charAt(offset));
    const message = `a file begins with "{" where it is JSON and with "<" where it is XML, not with ${first}`;
    return fail([textProblem({ code: 'unknown-syntax', message, offset }, text, source)]);
  }
  const parsed = syntax === 'json' ? parseJson(text) : parseXml(text, expected);
  if (!parsed.ok) return fail([textProblem(parsed.error, text, source)]);

  const { value, offsetOf } = parsed.value;
  const named = documentNamed((value as { readonly format?: unknown } | null)?.format);
  const kind = expected.find(({ name }) => name === named);
  const names = expected.map(({ name }) => name);
  const checked = kind
    ? checkParsed(parsed.value, kind, syntax)
    : fail({ problems: [formatProblem(value, names, instead)], isCut: false });
  if (checked.ok) return checked;
  const { problems, isCut } = checked.error;
  const located = locate(problems, text, source, offsetOf);
  return fail(atMost(alikeTogether({ problems: located, isCut }), isCut));
};

/**
 * Reads a document of any kind, told by its `format`.
 *
 * The input is UTF-8 bytes or text of at most 8 MiB, JSON or XML. The errors are every problem found, each
 * with the source and, where it stands in the text, its line and column from 1.
 */
export const readDocument = (input: Uint8Array | string, options: ReadOptions): Outcome<AnyDocument> =>
  readOneOf(input, options, documentKinds);

/** Reads a rig file; otherwise as `readDocument`. */
export const readRig = (input: Uint8Array | string, options: ReadOptions): Outcome<Rig> =>
  readOneOf(input, options, [rigKind]);

/** Reads an intents file; otherwise as `readDocument`. */
export const readIntents = (input: Uint8Array | string, options: ReadOptions): Outcome<IntentsDocument> =>
  readOneOf(input, options, [intentsKind]);

/** Reads a target descriptor, its grids not yet made; otherwise as `readDocument`. */
export const readTarget = (input: Uint8Array | string, options: ReadOptions): Outcome<Target> =>
  readOneOf(input, options, [targetKind]);

/** Reads a recipe; otherwise as `readDocument`. */
export const readRecipe = (input: Uint8Array | string, options: ReadOptions): Outcome<Recipe> =>
  readOneOf(input, options, [recipeKind]);

/** Reads a journal; otherwise as `readDocument`. */
export const readJournal = (input: Uint8Array | string, options: ReadOptions): Outcome<Journal> =>
  readOneOf(input, options, [journalKind]);
