import { createScanner } from 'jsonc-parser/lib/esm/main.js';
import { quote } from '../../units/quote.js';
import { positionsIn } from '../locate.js';
import { deepestNesting, mostValues, type TextFault, tooManyValues } from '../parsed.js';
import { explainWord } from './explain.js';

// The scanner's enums vanish in compilation, so the members needed are given here.

/** A token of the scanner: one of `token`, where it begins, and one of `tokenFault`. */
interface Token {
  readonly kind: number;
  readonly offset: number;
  readonly wrong: number;
}

const token = {
  openBrace: 1,
  closeBrace: 2,
  openBracket: 3,
  closeBracket: 4,
  comma: 5,
  number: 11,
  lineComment: 12,
  blockComment: 13,
  unknown: 16,
  end: 17,
} as const;

const tokenFault = {
  none: 0,
  commentOpen: 1,
  stringOpen: 2,
  numberEnds: 3,
  badUnicode: 4,
  badEscape: 5,
  badCharacter: 6,
} as const;

/** A bracket not closed yet. */
interface Opener {
  readonly opens: string;
  readonly closes: string;
  readonly offset: number;
}

const openers: ReadonlyMap<number, Pick<Opener, 'opens' | 'closes'>> = new Map([
  [token.openBrace, { opens: '{', closes: '}' }],
  [token.openBracket, { opens: '[', closes: ']' }],
]);

const closers: ReadonlyMap<number, string> = new Map([
  [token.closeBrace, '}'],
  [token.closeBracket, ']'],
]);

const fault = (message: string, offset: number, code = 'json-syntax'): TextFault => ({
  code,
  message,
  offset,
});

/** What a token does to the brackets open before it; tells one that does not fit, or lies too deep. */
const bracketFault = (
  text: string,
  { kind, offset }: Token,
  open: Opener[],
  deepest: number,
): TextFault | null => {
  const opener = openers.get(kind);
  if (opener) open.push({ ...opener, offset });
  if (open.length > deepest) {
    const message = `objects and lists lie more than ${deepest} deep in each other here; no file needs that`;
    return fault(message, offset, 'too-deep');
  }
  const closer = closers.get(kind);
  if (closer === undefined) return null;
  const opened = open.pop();
  if (opened === undefined) return fault(`${quote(closer)} closes nothing; take it out`, offset);
  if (opened.closes === closer) return null;
  const { line } = positionsIn(text)(opened.offset);
  const message = `${quote(closer)} cannot close the ${quote(opened.opens)} of line ${line}; ${quote(opened.closes)} is missing`;
  return fault(message, offset);
};

/** Tells the innermost bracket that the text never closes. */
const unclosedFault = (open: readonly Opener[]): TextFault | null => {
  const unclosed = open.at(-1);
  if (!unclosed) return null;
  const { opens, closes, offset } = unclosed;
  return fault(
    `the file ends before this ${quote(opens)} is closed with ${quote(closes)}; is the file cut short?`,
    offset,
  );
};

function* tokensOf(text: string): Generator<Token> {
  const scanner = createScanner(text);
  for (;;) {
    const kind = scanner.scan() as number;
    if (kind === token.end) return;
    yield { kind, offset: scanner.getTokenOffset(), wrong: scanner.getTokenError() as number };
  }
}

const messages: Readonly<Record<number, string>> = {
  [tokenFault.stringOpen]: 'the text that begins here has no closing double quote on its line',
  [tokenFault.badUnicode]: '\\u in text is followed by four hexadecimal digits, as in \\u00e9',
  [tokenFault.badEscape]:
    'a backslash in text stands before one of " \\ / b f n r t u; write \\\\ for itself',
  [tokenFault.badCharacter]: 'text holds a control character as such; write it as an escape, as in \\t',
};

const wordAt = (text: string, offset: number): string => {
  const word = /[^\s,:{}[\]"]+/y;
  word.lastIndex = offset;
  return word.exec(text)?.[0] ?? text.charAt(offset);
};

/** What is wrong with a token by itself, or with two that run into each other. */
const wordFault = (text: string, { kind, offset, wrong }: Token, before: Token | null): TextFault | null => {
  const fault = (message: string, at: number): TextFault => ({ code: 'json-syntax', message, offset: at });
  if (kind === token.lineComment || kind === token.blockComment) {
    return fault('comments are not part of JSON; take this one out', offset);
  }
  // A number that runs into something else, such as 0x10 or 01, is one word to the person who wrote it.
  const number = before?.kind === token.number ? before : null;
  if (kind === token.unknown || (kind === token.number && number)) {
    const start = number?.offset ?? offset;
    return fault(explainWord(wordAt(text, start)), start);
  }
  if (wrong === tokenFault.none) return null;
  return fault(messages[wrong] ?? explainWord(wordAt(text, offset)), offset);
};

/**
 * Walks the tokens of a JSON text and tells the first that is none, a bracket without its partner, too deep
 * nesting or too many values. It does not recurse, so a text it passes is safe for a parser that does.
 */
export const scanJson = (text: string, deepest: number = deepestNesting): TextFault | null => {
  const open: Opener[] = [];
  let before: Token | null = null;
  let values = 0;
  for (const each of tokensOf(text)) {
    const fault = wordFault(text, each, before) ?? bracketFault(text, each, open, deepest);
    if (fault) return fault;
    if (each.kind === token.comma) values++;
    if (values > mostValues) return { code: 'too-many-values', message: tooManyValues, offset: each.offset };
    before = each;
  }
  return unclosedFault(open);
};
