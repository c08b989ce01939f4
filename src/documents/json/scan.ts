import { deepestNesting, mostValues, tooManyValues } from '../limits.js';
import type { TextFault } from '../parsed.js';
import { bracketFault, type Opener, unclosedFault } from './brackets.js';
import { explainWord } from './explain-word.js';
import { createScanner, type Token, token, tokenFault } from './jsonc.js';

function* tokensOf(text: string): Generator<Token> {
  const scanner = createScanner(text);
  for (;;) {
    const kind = scanner.scan() as number;
    if (kind === token.end) return;
    yield { kind, offset: scanner.getTokenOffset(), wrong: scanner.getTokenError() as number };
  }
}

const messages: Readonly<Record<number, string>> = {
  [tokenFault.stringOpen]: 'the text that begins here has no closing double quote on its line',
  [tokenFault.badUnicode]: '\\u in text is followed by four hexadecimal digits, as in \\u00e9',
  [tokenFault.badEscape]:
    'a backslash in text stands before one of " \\ / b f n r t u; write \\\\ for itself',
  [tokenFault.badCharacter]: 'text holds a control character as such; write it as an escape, as in \\t',
};

const wordAt = (text: string, offset: number): string => {
  const word = /[^\s,:{}[\]"]+/y;
  word.lastIndex = offset;
  return word.exec(text)?.[0] ?? text.charAt(offset);
};

/** What is wrong with a token by itself, or with two that run into each other. */
const wordFault = (text: string, { kind, offset, wrong }: Token, before: Token | null): TextFault | null => {
  const fault = (message: string, at: number): TextFault => ({ code: 'json-syntax', message, offset: at });
  if (kind === token.lineComment || kind === token.blockComment) {
    return fault('comments are not part of JSON; take this one out', offset);
  }
  // A number that runs into something else, such as 0x10 or 01, is one word to the person who wrote it.
  const number = before?.kind === token.number ? before : null;
  if (kind === token.unknown || (kind === token.number && number)) {
    const start = number?.offset ?? offset;
    return fault(explainWord(wordAt(text, start)), start);
  }
  if (wrong === tokenFault.none) return null;
  return fault(messages[wrong] ?? explainWord(wordAt(text, offset)), offset);
};

/**
 * Walks the tokens of a JSON text and tells the first that is none, a bracket without its partner, too deep
 * nesting or too many values. It does not recurse, so a text it passes is safe for a parser that does.
 */
export const scanJson = (text: string, deepest: number = deepestNesting): TextFault | null => {
  const open: Opener[] = [];
  let before: Token | null = null;
  let values = 0;
  for (const each of tokensOf(text)) {
    const fault = wordFault(text, each, before) ?? bracketFault(text, each, open, deepest);
    if (fault) return fault;
    if (each.kind === token.comma) values++;
    if (values > mostValues) return { code: 'too-many-values', message: tooManyValues, offset: each.offset };
    before = each;
  }
  return unclosedFault(open);
};
