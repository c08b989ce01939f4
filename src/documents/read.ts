import type { IntentsDocument } from '../model/intent.js';
import type { Journal } from '../model/journal.js';
import { type Outcome, type Problem, problem } from '../model/problem.js';
import type { Recipe } from '../model/recipe.js';
import type { Rig } from '../model/rig.js';
import type { Target } from '../model/target.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';
import { checkDocument } from './check.js';
import { decodeText } from './decode.js';
import { type AnyDocument, type DocumentName, documentNamed, documentNames } from './documents.js';
import type { Syntax } from './fault-words.js';
import { parseJson } from './json/parse-json.js';
import { mostProblems } from './limits.js';
import { decodeProblem, locate, textProblem } from './locate.js';
import type { ParseOutcome } from './parsed.js';
import { tellFormat } from './tell-format.js';
import { parseXml } from './xml/parse-xml.js';

export interface ReadOptions {
  /** What the text is called in problems: a file name, say. */
  readonly source: string;
  /** Told by the first character that is no space unless given. */
  readonly syntax?: Syntax;
}

const syntaxOf = (text: string): Syntax | null => {
  const first = text.trimStart().charAt(0);
  if (first === '<') return 'xml';
  return first === '{' ? 'json' : null;
};

const parse = (text: string, syntax: Syntax): ParseOutcome =>
  syntax === 'json' ? parseJson(text) : parseXml(text);

const atMost = (problems: readonly Problem[]): readonly Problem[] =>
  problems.length <= mostProblems
    ? problems
    : [
        ...problems.slice(0, mostProblems),
        problem('more-problems', '', 'There are more problems than are told here; mend these first.'),
      ];

const readAs = (
  input: Uint8Array | string,
  { source, syntax: told }: ReadOptions,
  expected: readonly DocumentName[],
): Outcome<AnyDocument> => {
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
  const parsed = parse(text, syntax);
  if (!parsed.ok) return fail([textProblem(parsed.error, text, source)]);

  const { value, offsetOf } = parsed.value;
  const name = documentNamed((value as { readonly format?: unknown } | null)?.format);
  const problems =
    name !== undefined && expected.includes(name)
      ? checkDocument(parsed.value, name, syntax)
      : [tellFormat(value, expected)];
  return problems.length > 0
    ? fail(atMost(locate(problems, text, source, offsetOf)))
    : ok(value as AnyDocument);
};

/**
 * Reads a document of any kind, told by its `format`.
 *
 * The input is UTF-8 bytes or text of at most 8 MiB, JSON or XML. The errors are every problem found, each
 * with the source and, where it stands in the text, its line and column from 1.
 */
export const readDocument = (input: Uint8Array | string, options: ReadOptions): Outcome<AnyDocument> =>
  readAs(input, options, documentNames);

/** Reads a rig file; otherwise as `readDocument`. */
export const readRig = (input: Uint8Array | string, options: ReadOptions): Outcome<Rig> =>
  readAs(input, options, ['rig']) as Outcome<Rig>;

/** Reads an intents file; otherwise as `readDocument`. */
export const readIntents = (input: Uint8Array | string, options: ReadOptions): Outcome<IntentsDocument> =>
  readAs(input, options, ['intents']) as Outcome<IntentsDocument>;

/** Reads a target descriptor, its grids not yet made; otherwise as `readDocument`. */
export const readTarget = (input: Uint8Array | string, options: ReadOptions): Outcome<Target> =>
  readAs(input, options, ['target']) as Outcome<Target>;

/** Reads a recipe; otherwise as `readDocument`. */
export const readRecipe = (input: Uint8Array | string, options: ReadOptions): Outcome<Recipe> =>
  readAs(input, options, ['recipe']) as Outcome<Recipe>;

/** Reads a journal; otherwise as `readDocument`. */
export const readJournal = (input: Uint8Array | string, options: ReadOptions): Outcome<Journal> =>
  readAs(input, options, ['journal']) as Outcome<Journal>;
