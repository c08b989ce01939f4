import { wrap as wrapPlain } from '../exporters/layout/wrap.js';

/** Breaks a text into lines no wider than `columns`; all but the first begin with the indent. */
export const wrap = (text: string, columns: number, hangingIndent = ''): readonly string[] =>
  wrapPlain(text, columns - hangingIndent.length).map((line, index) =>
    index === 0 ? line : `${hangingIndent}${line}`,
  );
