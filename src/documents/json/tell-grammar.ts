import { quote } from '../../units/quote.js';
import type { TextFault } from '../parsed.js';
import { grammarFault, type ParseError } from './jsonc.js';

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
export const tellGrammar = (text: string, { error, offset, length }: ParseError): TextFault => {
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
