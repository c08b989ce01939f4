import { printable } from '../units/quote.js';
import { displayWidth, graphemes } from './display-width.js';

/** Breaks a word that is wider than a line. */
const brokenWord = (word: string, columns: number): readonly string[] => {
  if (displayWidth(word) <= columns) return [word];
  const pieces: string[] = [];
  let piece = '';
  for (const grapheme of graphemes(word)) {
    if (piece !== '' && displayWidth(piece + grapheme) > columns) {
      pieces.push(piece);
      piece = '';
    }
    piece += grapheme;
  }
  return [...pieces, piece];
};

/**
 * Breaks a text at its spaces into lines no wider than `columns`, words wider than that wherever they must.
 * What a terminal would obey is shown as an escape.
 */
export const wrap = (text: string, columns: number): readonly string[] => {
  const words = printable(text)
    .split(' ')
    .filter((word) => word !== '')
    .flatMap((word) => brokenWord(word, columns));
  const lines: string[] = [];
  let line = '';
  for (const word of words) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (displayWidth(longer) <= columns) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  return line === '' && lines.length > 0 ? lines : [...lines, line];
};
