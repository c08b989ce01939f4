/**
 * The JSON scanner and parser used here, by its ES modules: the package's main file is UMD, which bundlers
 * cannot follow. Its enums vanish in compilation, so the members needed are given here.
 */
export {
  createScanner,
  type Node,
  type ParseError,
  parseTree,
} from 'jsonc-parser/lib/esm/main.js';

/** A token of the scanner: one of `token`, where it begins, and one of `tokenFault`. */
export interface Token {
  readonly kind: number;
  readonly offset: number;
  readonly wrong: number;
}

export const token = {
  openBrace: 1,
  closeBrace: 2,
  openBracket: 3,
  closeBracket: 4,
  comma: 5,
  number: 11,
  lineComment: 12,
  blockComment: 13,
  unknown: 16,
  end: 17,
} as const;

export const tokenFault = {
  none: 0,
  commentOpen: 1,
  stringOpen: 2,
  numberEnds: 3,
  badUnicode: 4,
  badEscape: 5,
  badCharacter: 6,
} as const;

export const grammarFault = {
  nameExpected: 3,
  valueExpected: 4,
  colonExpected: 5,
  commaExpected: 6,
  endExpected: 9,
} as const;
