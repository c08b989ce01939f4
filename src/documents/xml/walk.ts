import { quote } from '../../units/quote.js';
import { fail, ok, type Result } from '../../units/result.js';
import { deepestNesting, mostValues, tooManyValues } from '../limits.js';
import { forbiddenKeys, type TextFault } from '../parsed.js';
import { placesIn } from '../place.js';
import { referenceFault } from './characters.js';
import { nilAttribute } from './names.js';
import { type Attribute, readEndTag, readStartTag, type Tag } from './read-tag.js';

/** How far a walk through an XML text has come. */
export interface Walk {
  readonly text: string;
  readonly open: { readonly name: string; readonly offset: number }[];
  /** Attributes with line ends or tabs in them, which a reader makes spaces. */
  readonly spaced: Attribute[];
  values: number;
  hasRoot: boolean;
  knowsNil: boolean;
}

/** One step of a walk: where the next thing begins, or why the text is refused. */
export type Step = (walk: Walk, at: number) => Result<number, TextFault>;

const fault = (code: string, message: string, offset: number): Result<never, TextFault> =>
  fail({ code, message, offset });

/** Character data up to the next markup. */
export const passText: Step = ({ text, open }, at) => {
  const next = text.indexOf('<', at);
  const end = next === -1 ? text.length : next;
  const characters = text.slice(at, end);
  const wrong = referenceFault(characters);
  if (wrong) return fault('xml-entity', wrong.message, at + wrong.at);
  const stray = open.length > 0 ? -1 : characters.search(/[^ \t\n]/);
  if (stray !== -1) return fault('xml-syntax', 'text stands outside the element', at + stray);
  const bracket = characters.indexOf(']]>');
  return bracket === -1 ? ok(end) : fault('xml-syntax', ']]> in text is written ]]&gt;', at + bracket);
};

/** A comment (XML 1.0, production 15). */
export const passComment: Step = ({ text }, at) => {
  const start = at + '<!--'.length;
  const end = text.indexOf('--', start);
  if (end === -1) return fault('xml-syntax', 'the comment that begins here never ends with -->', at);
  return text.charAt(end + 2) === '>'
    ? ok(end + 3)
    : fault('xml-syntax', 'two hyphens may not stand inside a comment', end);
};

/** A CDATA section (XML 1.0, production 18). */
export const passCdata: Step = ({ text, open }, at) => {
  const end = text.indexOf(']]>', at);
  if (open.length === 0) return fault('xml-syntax', 'text stands outside the element', at);
  return end === -1
    ? fault('xml-syntax', 'the CDATA section that begins here never ends with ]]>', at)
    : ok(end + 3);
};

export const passEndTag: Step = ({ text, open }, at) => {
  const tag = readEndTag(text, at);
  if (!tag.ok) return tag;
  const opened = open.pop();
  if (opened?.name === tag.value.name) return ok(tag.value.end);
  const expected = opened
    ? `${quote(`<${opened.name}>`)} of line ${placesIn(text)(opened.offset).line} ends with ${quote(`</${opened.name}>`)}`
    : 'no element is open here';
  return fault('xml-syntax', `${quote(`</${tag.value.name}>`)} does not fit: ${expected}`, at);
};

const startTagFault = (
  walk: Walk,
  { name, attributes }: Tag,
  at: number,
): Result<never, TextFault> | null => {
  const nil = attributes.find((each) => each.name === nilAttribute);
  if (nil && !walk.knowsNil) {
    const message = 'xsi:nil stands here, but the first element does not declare xmlns:xsi';
    return fault('xml-namespace', message, nil.offset);
  }
  if (forbiddenKeys.includes(name)) {
    return fault('unknown-key', `the element ${quote(name)} is never allowed; take it out`, at);
  }
  if (walk.values > mostValues) return fault('too-many-values', tooManyValues, at);
  if (walk.open.length >= deepestNesting) {
    const message = `elements lie more than ${deepestNesting} deep in each other here; no file needs that`;
    return fault('too-deep', message, at);
  }
  return null;
};

export const passStartTag: Step = (walk, at) => {
  const { text, open, spaced, hasRoot } = walk;
  if (open.length === 0 && hasRoot) {
    return fault('xml-syntax', 'a second element stands at the top; a file holds one', at);
  }
  const tag = readStartTag(text, at, !hasRoot);
  if (!tag.ok) return tag;
  walk.hasRoot = true;
  walk.values += 1 + tag.value.attributes.length;
  walk.knowsNil ||= tag.value.attributes.some((each) => each.name === 'xmlns:xsi');
  const wrong = startTagFault(walk, tag.value, at);
  if (wrong) return wrong;
  for (const each of tag.value.attributes) {
    if (/[\t\n]/.test(each.raw)) spaced.push(each);
  }
  if (!tag.value.isClosed) open.push({ name: tag.value.name, offset: at });
  return ok(tag.value.end);
};

export const refuseInstruction: Step = (_walk, at) =>
  fault(
    'xml-instruction',
    'processing instructions are not read, and an XML declaration may only be the very first thing in a file; take it out',
    at,
  );

export const refuseDoctype: Step = (_walk, at) =>
  fault('xml-doctype', 'document types, and entities declared in them, are refused; take it out', at);

export const refuseOther: Step = (_walk, at) =>
  fault('xml-syntax', 'what begins with <! is a comment <!-- … --> or nothing that is read here', at);
