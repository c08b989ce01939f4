/** Wide and fullwidth characters (Unicode Standard Annex 11), coarsely: whole blocks, East Asian and emoji. */
const wide =
  /[\u1100-\u115f\u2e80-\u303e\u3041-\ua4cf\ua960-\ua97c\uac00-\ud7a3\uf900-\ufaff\ufe10-\ufe19\ufe30-\ufe6b\uff01-\uff60\uffe0-\uffe6\u{16fe0}-\u{1b2ff}\u{1f200}-\u{1f2ff}\u{20000}-\u{3fffd}]|\p{Emoji_Presentation}|\ufe0f/u;

/** Marks that sit on the character before them, and characters that show nothing. */
const onlyMarks = /^[\p{Mn}\p{Me}\p{Cf}]+$/u;

const plain = /^[ -~]*$/;

/** Made when a text first needs it: making it takes milliseconds, which plain text need not wait for. */
let segmenter: Intl.Segmenter | undefined;

/** A text as what people see as single characters. */
export const graphemes = (text: string): readonly string[] => {
  segmenter ??= new Intl.Segmenter('und', { granularity: 'grapheme' });
  return Array.from(segmenter.segment(text), ({ segment }) => segment);
};

/** How many columns a text takes in a fixed-width font. */
export const displayWidth = (text: string): number => {
  if (plain.test(text)) return text.length;
  return graphemes(text).reduce((width, grapheme) => {
    if (onlyMarks.test(grapheme)) return width;
    return width + (wide.test(grapheme) ? 2 : 1);
  }, 0);
};
