import type { ParseError } from 'jsonc-parser/lib/esm/main.js';
import { parseFrequency } from '../../units/parse.js';
import { quote } from '../../units/quote.js';
import type { TextFault } from '../parsed.js';

interface Explanation {
  readonly pattern: RegExp;
  explain(word: string): string;
}

const decimalOf = (hex: string): string => {
  const value = Number(hex.replace(/^[-+]/, ''));
  return Number.isSafeInteger(value) ? `; write ${hex.startsWith('-') ? '-' : ''}${value}` : '';
};

/** What people write that JSON (RFC 8259) does not have, the first that fits being told. */
const explanations: readonly Explanation[] = [
  {
    pattern: /^[-+]?nan$/i,
    explain: (word) => `${quote(word)} is no number; leave the key out where a value is not known`,
  },
  {
    pattern: /^[-+]?inf(inity)?$/i,
    explain: (word) => `${quote(word)} is no number JSON has; write a number that is large enough`,
  },
  {
    pattern: /^[-+]?0[xX][\da-fA-F]+$/,
    explain: (word) => `${quote(word)} is hexadecimal, and numbers are decimal${decimalOf(word)}`,
  },
  {
    pattern: /^[-+]?0[bBoO]\d+$/,
    explain: (word) => `${quote(word)} is not decimal, and numbers are decimal${decimalOf(word)}`,
  },
  {
    pattern: /^\+[\d.]/,
    explain: (word) => `${quote(word)}: a number has no plus sign; write ${quote(word.slice(1))}`,
  },
  {
    pattern: /^-?\.\d/,
    explain: (word) => `${quote(word)}: a number begins with a digit; write ${word.replace('.', '0.')}`,
  },
  {
    pattern: /^-?\d+\.(?!\d)/,
    explain: (word) => `${quote(word)}: digits belong after the decimal point`,
  },
  {
    pattern: /^-?0\d+(\.\d+)?$/,
    explain: (word) => `${quote(word)}: a number has no leading zero; write ${Number(word)}`,
  },
  {
    pattern: /^\d[\d.]*[a-zA-Z]/,
    explain: (word) => {
      const frequency = parseFrequency(word);
      const meant = frequency.ok ? `; write ${frequency.value} if a frequency in Hz is meant` : '';
      return `${quote(word)}: a number carries no unit${meant}`;
    },
  },
  {
    pattern: /^(true|false|null)$/i,
    explain: (word) => `${quote(word)} is written in small letters; write ${word.toLowerCase()}`,
  },
  {
    pattern: /^(none|nil|undefined)$/i,
    explain: (word) => `${quote(word)} is no JSON; leave the key out, or write null where that is allowed`,
  },
  {
    pattern: /^['‘’`]/,
    explain: () => 'text stands in double quotes, not single ones; write "…"',
  },
  {
    pattern: /^[“”„«»]/,
    explain: () => 'typographic quotes do not count; use straight double quotes "…"',
  },
  {
    pattern: /^#/,
    explain: () => 'comments are not part of JSON; take the # and what follows it out',
  },
  {
    pattern: /^[A-Za-z_$]/,
    explain: (word) => `${quote(word)} stands without quotes; text and keys stand in double quotes`,
  },
];

/** Says what is wrong with a run of characters that no JSON token begins with. */
export const explainWord = (word: string): string =>
  explanations.find(({ pattern }) => pattern.test(word))?.explain(word) ??
  `${quote(word)} is not expected here`;

/** The parser's enum vanishes in compilation, so the members needed are given here. */
const grammarFault = {
  nameExpected: 3,
  valueExpected: 4,
  colonExpected: 5,
  commaExpected: 6,
  endExpected: 9,
} as const;

const characterBefore = (text: string, offset: number): string => text.slice(0, offset).trimEnd().slice(-1);

/** A token as it is shown: text without its own quotes, which `quote` would double. */
const shown = (found: string): string => quote(found.replace(/^"(.*)"$/s, '$1'));

/** Why something else than a value or a key stands at an offset. */
const missing = (what: 'value' | 'key', found: string, before: string): string => {
  const closes = found === '}' || found === ']';
  if (closes && before === ',') return `the comma before ${quote(found)} is one too many; take it out`;
  if (found === ',') return `a ${what} is missing before the comma`;
  if (what === 'key' && /^[-\d]/.test(found)) {
    return `${quote(found)} stands where a key belongs; the decimal mark is a point, and keys stand in double quotes`;
  }
  if (found === '') return `the file ends where a ${what} belongs; is it cut short?`;
  return `a ${what} belongs here, not ${shown(found)}`;
};

/** Says in our own words what the parser finds wrong with the order of tokens. */
export const explainGrammar = (text: string, { error, offset, length }: ParseError): TextFault => {
  const found = text.slice(offset, offset + length);
  const messages: Readonly<Record<number, () => string>> = {
    [grammarFault.nameExpected]: () => missing('key', found, characterBefore(text, offset)),
    [grammarFault.valueExpected]: () => missing('value', found, characterBefore(text, offset)),
    [grammarFault.colonExpected]: () => `a colon is missing between the key and ${shown(found)}`,
    [grammarFault.commaExpected]: () => `a comma is missing before ${shown(found)}`,
    [grammarFault.endExpected]: () => `the data ends before ${shown(found)}; a file holds one object`,
  };
  const message = messages[error as number]?.() ?? `${quote(found)} is not expected here`;
  return { code: 'json-syntax', message, offset };
};
