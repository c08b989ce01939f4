import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { TextFault } from '../parsed.js';
import { forbiddenCharacterAt } from './characters.js';
import { readDeclaration } from './declaration.js';
import type { Attribute } from './read-tag.js';
import {
  passCdata,
  passComment,
  passEndTag,
  passStartTag,
  passText,
  refuseDoctype,
  refuseInstruction,
  refuseOther,
  type Step,
  type Walk,
} from './walk.js';

/** What each beginning of markup is, the first that fits. */
const steps: readonly { readonly begins: RegExp; readonly step: Step }[] = [
  { begins: /[^<]/y, step: passText },
  { begins: /<!--/y, step: passComment },
  { begins: /<!\[CDATA\[/y, step: passCdata },
  { begins: /<!doctype/iy, step: refuseDoctype },
  { begins: /<!/y, step: refuseOther },
  { begins: /<\?/y, step: refuseInstruction },
  { begins: /<\//y, step: passEndTag },
  { begins: /</y, step: passStartTag },
];

const stepAt = (text: string, at: number): Step => {
  const found = steps.find(({ begins }) => {
    begins.lastIndex = at;
    return begins.test(text);
  });
  return found?.step ?? passText;
};

/** Line ends and tabs in attributes are spaces (XML 1.0, section 3.3.3); as many, so that offsets stay. */
const withSpaces = (text: string, attributes: readonly Attribute[]): string => {
  const pieces: string[] = [];
  let done = 0;
  for (const { raw, offset } of attributes) {
    pieces.push(text.slice(done, offset + 1), raw.replace(/[\t\n]/g, ' '));
    done = offset + 1 + raw.length;
  }
  return done === 0 ? text : [...pieces, text.slice(done)].join('');
};

/**
 * Walks an XML text once and refuses what the parser behind it would let pass or stumble over: document
 * types, entities, processing instructions, forbidden characters, more than one element at the top, unknown
 * namespaces, doubled attributes, deep nesting. Gives the text back with the white space in its attributes
 * made spaces.
 */
export const guardXml = (text: string): Result<string, TextFault> => {
  const forbidden = forbiddenCharacterAt(text);
  if (forbidden !== -1) {
    const message = `${quote(text.charAt(forbidden))} is a character that XML does not allow`;
    return fail({ code: 'xml-character', message, offset: forbidden });
  }
  const declaration = readDeclaration(text);
  if (declaration?.fault) return fail({ ...declaration.fault, offset: 0 });

  const walk: Walk = { text, open: [], spaced: [], values: 0, hasRoot: false, knowsNil: false };
  let at = declaration?.end ?? 0;
  while (at < text.length) {
    const next = stepAt(text, at)(walk, at);
    if (!next.ok) return next;
    at = next.value;
  }
  const unclosed = walk.open.at(-1);
  if (unclosed) {
    const message = `${quote(`<${unclosed.name}>`)} begins here and is never closed; is the file cut short?`;
    return fail({ code: 'xml-syntax', message, offset: unclosed.offset });
  }
  return walk.hasRoot
    ? ok(withSpaces(text, walk.spaced))
    : fail({ code: 'xml-syntax', message: 'there is no element in this file', offset: 0 });
};
