import { describe, expect, it } from 'vitest';
import { columnLines } from '../../src/layout/columns.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { wrap } from '../../src/layout/wrap.js';

// Unicode Standard Annex 11 (East Asian Width): W and F take two columns, the others one; combining marks
// (general categories Mn and Me) take none of their own.
describe('the width of', () => {
  it.each([
    ['ASCII', 'Zoe', 3],
    ['nothing', '', 0],
    ['a letter with its accent', 'é', 1],
    ['a letter and a combining accent', 'e\u0301', 1],
    ['two combining marks', 'a\u0323\u0302', 1],
    ['Cyrillic', 'Хор', 3],
    ['Thai with marks above', 'ก็', 1],
    ['Han', '鼓手', 4],
    ['Hiragana', 'うた', 4],
    ['a Hangul syllable', '북', 2],
    ['the same from its letters', '\u1107\u116e\u11a8', 2],
    ['a fullwidth letter', 'Ａ', 2],
    ['halfwidth Katakana', 'ｱｲ', 2],
    ['an ideographic space', '\u3000', 2],
    ['a Han character beyond the first plane', '𠀋', 2],
    ['an emoji', '🎤', 2],
    ['an emoji made of three', '👩‍🎤', 2],
    ['a flag', '🇸🇪', 2],
    ['a text symbol shown as emoji', '❤\ufe0f', 2],
    ['the same as text', '❤', 1],
  ])('%s', (_, text, width) => {
    expect(displayWidth(text)).toBe(width);
  });
});

describe('wrapping', () => {
  it.each([
    ['at blanks', 'aa bb cc', 5, ['aa bb', 'cc']],
    ['a word as wide as the line', 'aaaaa bb', 5, ['aaaaa', 'bb']],
    ['a word that is wider', 'a bbbbbbb c', 3, ['a', 'bbb', 'bbb', 'b c']],
    ['wide characters', '鼓手鼓手', 5, ['鼓手', '鼓手']],
    ['blanks in a row', 'a   b', 9, ['a b']],
    ['nothing', '', 9, ['']],
  ])('%s', (_, text, columns, lines) => {
    expect(wrap(text, columns)).toEqual(lines);
  });
});

it('cells stand side by side, each as many lines as it needs', () => {
  expect(columnLines(['a', '鼓手 b', 'c'], [2, 4, 1])).toEqual(['a   鼓手  c', '    b']);
});
