const longestShown = 60;

/** Control, format, surrogate and line-separating characters: they could rewrite a terminal's screen. */
const unprintable = /[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/gu;

/** Makes text from outside safe to print: what a terminal would obey is shown as an escape instead. */
export const printable = (text: string): string =>
  text.replace(unprintable, (character) => `\\u{${character.codePointAt(0)?.toString(16)}}`);

/** Shows a value from outside inside a message: in quotes, safe to print, cut when long. */
export const quote = (value: unknown): string => {
  const text = typeof value === 'string' ? `"${value}"` : (JSON.stringify(value) ?? String(value));
  const safe = printable(text);
  return safe.length > longestShown ? `${safe.slice(0, longestShown)}…` : safe;
};
