import { wrap as wrapPlain } from './wrap.js';

/** Breaks a text into lines no wider than `columns`; all but the first begin with the indent. */
export const wrap = (text: string, columns: number, hangingIndent = ''): readonly string[] =>
  wrapPlain(text, columns - hangingIndent.length).map((line, index) =>
    index === 0 ? line : `${hangingIndent}${line}`,
  );

/** Breaks a text into lines no wider than `columns`: the first behind a head, the others as far in as that. */
export const hang = (head: string, text: string, columns: number): readonly string[] =>
  wrapPlain(text, Math.max(20, columns - head.length)).map(
    (line, index) => `${index === 0 ? head : ' '.repeat(head.length)}${line}`,
  );
