import { forbiddenCharacterAt } from './characters.js';

const escapes: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

/**
 * What a reader may make something else of: white space in attributes becomes a space (XML 1.0, section
 * 3.3.3), and readers that follow XML 1.1, section 2.11, take U+0085 and U+2028 for line ends.
 */
const unsteady = /[&<>"\t\n\r\u007f-\u009f\u2028]/g;

/**
 * Text as it stands in an attribute between double quotes.
 * Throws RangeError for characters that XML cannot hold in any way; no document that fits its schema has them.
 */
export const escapeAttribute = (text: string): string => {
  const forbidden = forbiddenCharacterAt(text);
  if (forbidden !== -1) {
    throw new RangeError(`XML cannot hold the character code ${text.charCodeAt(forbidden)}`);
  }
  return text.replace(unsteady, (character) => escapes[character] ?? `&#${character.charCodeAt(0)};`);
};
