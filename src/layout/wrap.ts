import { printable } from '../units/quote.js';
import { displayWidth, graphemes } from './display-width.js';

/** Breaks a word that is wider than a line. */
const brokenWord = (word: string, columns: number): readonly string[] => {
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

const literal = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

/** What stands between blanks, no wider than a line; what is to stay whole is part of one word, blanks and all. */
const wordsOf = (text: string, columns: number, whole: readonly string[]): readonly string[] => {
  // The longest first: a folder would cut short the path of a file in it.
  const kept = whole.map(printable).sort((a, b) => b.length - a.length);
  const word = new RegExp(
    `(?:${[...kept.filter((each) => each !== '').map(literal), '[^ ]'].join('|')})+`,
    'gu',
  );
  const isWhole = (found: string) => kept.some((each) => each !== '' && found.includes(each));
  return (text.match(word) ?? []).flatMap((found) =>
    displayWidth(found) <= columns || isWhole(found) ? [found] : brokenWord(found, columns),
  );
};

/**
 * Breaks a text at its blanks into lines no wider than `columns`, words wider than that wherever they must; all
 * lines but the first begin with the hanging indent. Width is display width, blanks in a row are one, and what a
 * terminal would obey is shown as an escape.
 *
 * What `whole` names, such as a path or a command line that somebody may copy, is never broken where it stands in
 * the text, not even at its blanks: where it is wider than a line, it has a line to itself, wider than `columns`.
 */
export const wrap = (
  text: string,
  columns: number,
  hangingIndent = '',
  whole: readonly string[] = [],
): readonly string[] => {
  const room = columns - displayWidth(hangingIndent);
  const lines: string[] = [];
  let line = '';
  for (const word of wordsOf(printable(text), room, whole)) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line === '' || displayWidth(longer) <= room) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line].map((each, index) => (index === 0 ? each : `${hangingIndent}${each}`));
};

/** The least room beside a head; a line gets wider than asked rather than narrower than this. */
const leastRoom = 20;

/** The same behind a head, all further lines as far in as that; never less than 20 columns beside the head. */
export const hang = (
  head: string,
  text: string,
  columns: number,
  whole: readonly string[] = [],
): readonly string[] => {
  const indent = ' '.repeat(displayWidth(head));
  return wrap(text, Math.max(leastRoom, columns - indent.length), '', whole).map(
    (line, index) => `${index === 0 ? head : indent}${line}`,
  );
};
