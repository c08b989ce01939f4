/**
 * What every parser of typed text shares: what is refused before reading, how a refusal is worded, and which
 * other spellings are offered. Nothing but what is written is ever read; a likely meaning is only offered.
 */
import { quoteText } from './quote.js';
import { fail, type Result } from './result.js';

const longestTyped = 64;

/** Spaces people type or paste between a number and its unit, the no-break ones included. */
export const gap = '[ \\t\\u00a0\\u2009\\u202f]*';

export interface Grammar<Value> {
  /** What is allowed, with an example, to end a refusal: `a Q is above zero, as in "10" or "Q10"`. */
  readonly allowed: string;
  /** Reads trimmed text. The error says what is wrong with it, to follow the quoted text: `is not above zero`. */
  read(text: string): Result<Value, string>;
}

const thousands = /^[+-]?\d{1,3}(?:[,\u00a0\u2009\u202f ]\d{3})+(?!\d)/;

/** Spellings that may have been meant: a decimal comma, grouped thousands, a dash for a minus sign. */
const nearSpellings = (text: string): readonly string[] => [
  text.replace(',', '.'),
  text.replace(thousands, (number) => number.replace(/[^+\-\d]/g, '')),
  text.replace(/^[\u2010-\u2015]/, '-'),
];

/** Reads text as a grammar has it. The error is one sentence: what stood there, what is wrong, what is allowed. */
export const parseTyped = <Value>(text: string, { allowed, read }: Grammar<Value>): Result<Value, string> => {
  const refuse = (complaint: string) => fail(`${quoteText(text)} ${complaint}; ${allowed}.`);
  if (text.length > longestTyped) return refuse(`is longer than ${longestTyped} characters`);
  const trimmed = text.trim();
  if (trimmed === '') return refuse('is empty');
  const outcome = read(trimmed);
  if (outcome.ok) return outcome;
  const offered = nearSpellings(trimmed).filter((spelling) => spelling !== trimmed && read(spelling).ok);
  return offered.length > 0
    ? refuse(`is not read as it stands: write ${offered.map(quoteText).join(' or ')} if that is meant`)
    : refuse(outcome.error);
};
