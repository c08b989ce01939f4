import { quote } from '../../units/quote.js';

/** A code point that may stand in XML 1.0 (production 2, Char). */
const isXmlCharacter = (code: number): boolean =>
  code === 0x9 ||
  code === 0xa ||
  code === 0xd ||
  (code >= 0x20 && code <= 0xd7ff) ||
  (code >= 0xe000 && code <= 0xfffd) ||
  (code >= 0x10000 && code <= 0x10ffff);

/** Where the first character stands that XML 1.0 forbids; -1 where there is none. */
export const forbiddenCharacterAt = (text: string): number =>
  text.search(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u);

const reference = /&(?:(?:amp|lt|gt|quot|apos)|#(\d{1,10})|#x([\da-fA-F]{1,8}));/y;

interface ReferenceFault {
  readonly at: number;
  readonly message: string;
}

/** The first `&` in a stretch of text that begins none of the references read here; null where all do. */
export const referenceFault = (text: string): ReferenceFault | null => {
  for (let at = text.indexOf('&'); at !== -1; at = text.indexOf('&', at + 1)) {
    reference.lastIndex = at;
    const match = reference.exec(text);
    if (match === null) {
      const name = /^&[^\s;&<"']{1,40};/.exec(text.slice(at, at + 42))?.[0];
      const message =
        name === undefined
          ? 'an & by itself is not XML; write &amp;'
          : `the entity ${quote(name)} is not read; only &amp; &lt; &gt; &quot; &apos; and numeric references such as &#233; are`;
      return { at, message };
    }
    const [whole, decimal, hexadecimal] = match;
    const code = decimal !== undefined ? Number(decimal) : Number.parseInt(hexadecimal ?? '20', 16);
    if (!isXmlCharacter(code)) {
      return { at, message: `${quote(whole)} stands for a character that XML does not allow` };
    }
  }
  return null;
};
