import { quote } from '../../units/quote.js';
import type { TextFault } from '../parsed.js';
import { placesIn } from '../place.js';
import { type Token, token } from './jsonc.js';

/** A bracket not closed yet. */
export interface Opener {
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
export const bracketFault = (
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
  const { line } = placesIn(text)(opened.offset);
  const message = `${quote(closer)} cannot close the ${quote(opened.opens)} of line ${line}; ${quote(opened.closes)} is missing`;
  return fault(message, offset);
};

/** Tells the innermost bracket that the text never closes. */
export const unclosedFault = (open: readonly Opener[]): TextFault | null => {
  const unclosed = open.at(-1);
  if (!unclosed) return null;
  const { opens, closes, offset } = unclosed;
  return fault(
    `the file ends before this ${quote(opens)} is closed with ${quote(closes)}; is the file cut short?`,
    offset,
  );
};
