import { describe, expect, it } from 'vitest';
import { columnLines, tableLines } from '../../src/layout/columns.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { hang, wrap } from '../../src/layout/wrap.js';

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

describe('what is to stay whole', () => {
  const path = '/home/a b/show  one/desk (2).json';
  const command = 'bandwright restore x.json --to 10.0.0.5';

  it.each([10, 20, 40, 80])('is never broken, at %i columns', (columns) => {
    const lines = wrap(`Kept in ${path}. To put it back: ${command}`, columns, '  ', [path, command]);
    const text = lines.join('\n');
    expect(text).toContain(path);
    expect(text).toContain(command);
    for (const line of lines) {
      if (!line.includes(path) && !line.includes(command)) {
        expect(displayWidth(line)).toBeLessThanOrEqual(columns);
      }
    }
  });

  it('has a line to itself where it is wider than a line, and shares one where it is not', () => {
    expect(wrap('see /a b/c now', 5, '', ['/a b/c'])).toEqual(['see', '/a b/c', 'now']);
    expect(wrap('see /a b/c now', 10, '', ['/a b/c'])).toEqual(['see /a b/c', 'now']);
  });

  it('keeps what stands against it, quotes and a full stop', () => {
    expect(wrap('in "/a b/c". Then', 9, '', ['/a b/c'])).toEqual(['in', '"/a b/c".', 'Then']);
  });

  it('may lie in another, or be nothing', () => {
    expect(wrap('at /a b and /a b/c d', 6, '', ['', '/a b', '/a b/c d'])).toEqual([
      'at',
      '/a b',
      'and',
      '/a b/c d',
    ]);
  });

  it('is shown as escapes where a terminal would obey it', () => {
    const hostile = '/a\u001b[2J b';
    expect(wrap(`at ${hostile}`, 8, '', [hostile])).toEqual(['at', '/a\\u{1b}[2J b']);
  });

  it('is broken where it is not named', () => {
    expect(wrap('see /a b/c now', 5)).toEqual(['see', '/a', 'b/c', 'now']);
  });
});

it('a hanging indent stands before all lines but the first, and takes of their width', () => {
  expect(wrap('aa bb cc dd', 7, '  ')).toEqual(['aa bb', '  cc dd']);
});

it('a text hangs behind its head, by display width', () => {
  expect(hang('鼓 ', 'aaaaaaaaaa bbbbbbbbbb cc', 24)).toEqual(['鼓 aaaaaaaaaa bbbbbbbbbb', '   cc']);
});

describe('a table', () => {
  const rows = [
    ['desk', 'Hz off', 'what it is'],
    ['鼓', '-3', 'an invented desk of eight bells'],
    ['', '12.5', '  set in a little'],
  ];

  it('is as wide as its cells, figures to the right', () => {
    expect(tableLines(rows, [1])).toEqual([
      'desk  Hz off  what it is',
      '鼓        -3  an invented desk of eight bells',
      '        12.5    set in a little',
    ]);
  });

  it('wraps the widest text where there is no room, and keeps figures and indents', () => {
    expect(tableLines(rows, [1], 28)).toEqual([
      'desk  Hz off  what it is',
      '鼓        -3  an invented',
      '              desk of eight',
      '              bells',
      '        12.5    set in a',
      '                little',
    ]);
  });

  it.each([12, 20, 40, 60])('is no wider than %i columns', (columns) => {
    const lines = tableLines([...rows, ['a-name-without-a-blank', '1234567', '鼓手鼓手鼓手']], [1], columns);
    expect(lines.filter((line) => displayWidth(line) > columns)).toEqual([]);
    const letters = lines.join('').replace(/ /g, '');
    expect(letters.length).toBe(
      [...rows.flat(), 'a-name-without-a-blank', '1234567', '鼓手鼓手鼓手'].join('').replace(/ /g, '').length,
    );
  });

  it('without rows has no lines, and a short row has empty cells', () => {
    expect(tableLines([])).toEqual([]);
    expect(tableLines([['a', 'b'], ['c']])).toEqual(['a  b', 'c']);
  });
});

it('cells stand side by side, each as many lines as it needs', () => {
  expect(columnLines(['a', '鼓手 b', 'c'], [2, 4, 1])).toEqual(['a   鼓手  c', '    b']);
});
