import { parseFrequency } from '../../units/parse.js';
import { quote } from '../../units/quote.js';

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
