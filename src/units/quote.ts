const longestShown = 60;

/** Control, format, lone surrogate and line-separating characters: they could rewrite a terminal's screen. */
const unprintable = /[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/gu;

/** Nearly all there is; to tell classes of characters apart takes longer than the rest of a short run's words. */
const plain = /^[ -~]*$/;

/** Makes text from outside safe to print: what a terminal would obey is shown as an escape instead. */
export const printable = (text: string): string =>
  plain.test(text)
    ? text
    : text.replace(unprintable, (character) => `\\u{${character.codePointAt(0)?.toString(16)}}`);

/** Shows text from outside inside a message: in double quotes, safe to print, cut when long. */
export const quoteText = (text: string): string =>
  // Cut before escaping, so that an escape is never cut in half and a huge text costs nothing.
  text.length > longestShown ? `"${printable(text.slice(0, longestShown))}…"` : `"${printable(text)}"`;

const asJson = (value: unknown): string => {
  try {
    return JSON.stringify(value) ?? typeof value;
  } catch {
    // Circular, nested too deeply, or of a kind that JSON has not.
    return typeof value;
  }
};

/** Shows any value from outside inside a message; text in quotes, numbers and structures as JSON has them. */
export const quote = (value: unknown): string => {
  if (typeof value === 'string') return quoteText(value);
  // JSON has no NaN, no Infinity and no -0: those are shown by their own names.
  if (typeof value === 'number') return Object.is(value, -0) ? '-0' : String(value);
  const text = asJson(value);
  const safe = printable(text.slice(0, longestShown));
  return text.length > longestShown ? `${safe}…` : safe;
};
