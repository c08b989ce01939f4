import { quoteText } from './quote.js';
import { fail, ok, type Result } from './result.js';

/**
 * What every parser of typed text shares: what is refused before reading, how a refusal is worded, and which
 * other spellings are offered. Nothing but what is written is ever read; a likely meaning is only offered.
 */

const longestTyped = 64;

/** Spaces people type or paste between a number and its unit, the no-break ones included. */
export const gap = '[ \\t\\u00a0\\u2009\\u202f]*';

/** How one kind of text is read. */
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

/** Units by their spelling in lower case without spaces, each with its power of ten. */
export type Units = Readonly<Record<string, number>>;

const unitPower = (units: Units, text: string): number | undefined => {
  const spelling = text.replace(new RegExp(gap, 'g'), '').toLowerCase();
  return Object.hasOwn(units, spelling) ? units[spelling] : undefined;
};

const signed = new RegExp(`^([+\\-\\u2212]?)(\\d+(?:\\.\\d+)?|\\.\\d+)(?:e([+-]?\\d{1,4}))?${gap}(.*)$`, 'i');

/**
 * Reads a decimal number and its unit. A true minus sign (U+2212) is a minus sign.
 * The value is the double nearest to what is written, the unit's power of ten included: `19.32 kHz` is 19320.
 * The error is the complaint alone, to follow the quoted text.
 */
export const readNumber = (text: string, units: Units): Result<number, string> => {
  const parts = signed.exec(text);
  if (parts === null) return fail('holds no number that can be read');
  const [, sign = '', mantissa = '', exponent = '0', unit = ''] = parts;
  const power = unitPower(units, unit);
  if (power === undefined) return fail(`has ${quoteText(unit)} after the number`);
  // Joined as text and converted once, so that no multiplication rounds a second time.
  const size = Number(`${mantissa}e${Number(exponent) + power}`);
  if (!Number.isFinite(size)) return fail('is too large a number');
  if (size === 0 && /[1-9]/.test(mantissa)) return fail('is too small a number');
  return ok(sign === '' || sign === '+' || size === 0 ? size : -size);
};

const fraction = new RegExp(`^(\\d+)${gap}/${gap}(\\d+)${gap}(.*)$`);

/** Reads a number, or a fraction of two whole ones, and its unit: `1/3 oct`. */
export const readNumberOrFraction = (text: string, units: Units): Result<number, string> => {
  const parts = fraction.exec(text);
  if (parts === null) return readNumber(text, units);
  const [, numerator = '', denominator = '', unit = ''] = parts;
  if (Number(denominator) === 0) return fail('divides by zero');
  if (unitPower(units, unit) === undefined) return fail(`has ${quoteText(unit)} after the fraction`);
  return ok(Number(numerator) / Number(denominator));
};

/** Narrows an outcome to values above zero. */
export const onlyAboveZero = (outcome: Result<number, string>): Result<number, string> =>
  outcome.ok && outcome.value <= 0 ? fail('is not above zero') : outcome;
