import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import type { TextFault } from '../parsed.js';
import { referenceFault } from './characters.js';
import { instanceNamespace, nilAttribute } from './names.js';

const nameStart = ':A-Z_a-z\\u00c0-\\ufffd';
const name = `[${nameStart}][${nameStart}\\-.0-9\\u00b7]*`;
/** White space (XML 1.0, production 3); line ends are LF by now. */
const space = '[ \\t\\n]';
const opening = new RegExp(`<(${name})`, 'y');
const attribute = new RegExp(`${space}+(${name})${space}*=${space}*("[^"<]*"|'[^'<]*')`, 'y');
const ending = /[ \t\n]*(\/?)>/y;
const closing = new RegExp(`</(${name})${space}*>`, 'y');

export interface Attribute {
  readonly name: string;
  /** As it stands between its quotes, which begin at `offset`. */
  readonly raw: string;
  readonly offset: number;
}

export interface Tag {
  readonly name: string;
  readonly attributes: readonly Attribute[];
  readonly isClosed: boolean;
  readonly end: number;
}

const syntaxFault = (message: string, offset: number): Result<never, TextFault> =>
  fail({ code: 'xml-syntax', message, offset });

const namespaceFault = ({ name: called, raw, offset }: Attribute, isRoot: boolean): TextFault | null => {
  if (!called.includes(':') && called !== 'xmlns') return null;
  if (called === nilAttribute) return null;
  if (called === 'xmlns:xsi' && raw === instanceNamespace && isRoot) return null;
  const message = `${quote(called)}: no namespace is read but xmlns:xsi="${instanceNamespace}" on the first element, for xsi:nil`;
  return { code: 'xml-namespace', message, offset };
};

const attributeFault = (each: Attribute, before: ReadonlySet<string>, isRoot: boolean): TextFault | null => {
  if (before.has(each.name)) {
    const message = `the attribute ${quote(each.name)} stands twice in one tag`;
    return { code: 'duplicate-key', message, offset: each.offset };
  }
  const wrong = referenceFault(each.raw);
  if (wrong) return { code: 'xml-entity', message: wrong.message, offset: each.offset + 1 + wrong.at };
  return namespaceFault(each, isRoot);
};

/** Reads the start tag or empty-element tag at an offset (XML 1.0, productions 40 to 44). */
export const readStartTag = (text: string, offset: number, isRoot: boolean): Result<Tag, TextFault> => {
  opening.lastIndex = offset;
  const opened = opening.exec(text);
  if (opened === null) return syntaxFault('a < by itself is not XML; write &lt;', offset);
  const called = opened[1] ?? '';
  if (called.includes(':')) {
    const message = `the element ${quote(called)} has a namespace prefix; elements here have none`;
    return fail({ code: 'xml-namespace', message, offset });
  }
  const attributes: Attribute[] = [];
  const names = new Set<string>();
  let at = opening.lastIndex;
  for (;;) {
    attribute.lastIndex = at;
    const match = attribute.exec(text);
    if (match === null) break;
    const [whole, attributeName = '', quoted = ''] = match;
    at += whole.length;
    const each = { name: attributeName, raw: quoted.slice(1, -1), offset: at - quoted.length };
    const wrong = attributeFault(each, names, isRoot);
    if (wrong) return fail(wrong);
    attributes.push(each);
    names.add(each.name);
  }
  ending.lastIndex = at;
  const ended = ending.exec(text);
  return ended === null
    ? syntaxFault(
        `this is no attribute of ${quote(`<${called}>`)}; attributes are written name="value", with a space before each, and < as &lt;`,
        Math.min(at, text.length - 1),
      )
    : ok({ name: called, attributes, isClosed: ended[1] === '/', end: at + ended[0].length });
};

/** Reads the end tag at an offset: its name, and where it ends. */
export const readEndTag = (text: string, offset: number): Result<Pick<Tag, 'name' | 'end'>, TextFault> => {
  closing.lastIndex = offset;
  const match = closing.exec(text);
  return match === null
    ? syntaxFault('this is no end tag; one is written </name>', offset)
    : ok({ name: match[1] ?? '', end: offset + match[0].length });
};
