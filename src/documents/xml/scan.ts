import { quote } from '../../units/quote.js';
import { positionsIn } from '../locate.js';
import { deepestNesting, forbiddenKeys, mostValues, type TextFault, tooManyValues } from '../parsed.js';
import { instanceNamespace, nilAttribute } from './form.js';

/** All but Char of XML 1.0, production 2. */
const forbidden = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u;

/** Where the first character stands that XML 1.0 has no way to hold; -1 where there is none. */
export const forbiddenCharacterAt = (text: string): number => text.search(forbidden);

/** White space of XML 1.0, production 3; line ends are LF by now. */
const space = '[ \\t\\n]';
const nameStart = ':A-Z_a-z\\u00c0-\\ufffd';
const name = `[${nameStart}][${nameStart}\\-.0-9\\u00b7]*`;
const is = `${space}*=${space}*`;
/** XML 1.0, productions 14, 15, 18, 42 and the beginning of 40 and 44. */
const piece = new RegExp(
  `(?<text>[^<]+)|<!--[^]*?(?<hyphens>-->|--)|<!\\[CDATA\\[(?<cdata>[^]*?)\\]\\]>|</(?<closes>${name})${space}*>|<(?<opens>${name})`,
  'y',
);
const attribute = new RegExp(`${space}+(${name})${is}("[^"<]*"|'[^'<]*')`, 'y');
const startTagEnd = new RegExp(`${space}*(/?)>`, 'y');
const reference = /&(?:amp|lt|gt|quot|apos|#(\d{1,10})|#x([\da-fA-F]{1,8}));/y;
/** XML 1.0, production 23. */
const declaration = new RegExp(
  `<\\?xml${space}+version${is}(["'])(?<version>[^"']*)\\1(?:${space}+encoding${is}(["'])(?<encoding>[^"']*)\\3)?(?:${space}+standalone${is}(["'])(?:yes|no)\\5)?${space}*\\?>`,
  'y',
);

/** What no piece is, by its beginning: the first that fits. */
const refusals: readonly (readonly [begins: RegExp, message: string, code?: string])[] = [
  [/<!--/y, 'the comment that begins here never ends with -->'],
  [/<!\[CDATA\[/y, 'the CDATA section that begins here never ends with ]]>'],
  [/<!doctype/iy, 'document types, and entities declared in them, are refused; take it out', 'xml-doctype'],
  [/<!/y, 'what begins with <! is a comment <!-- … --> or nothing that is read here'],
  [
    /<\?/y,
    'processing instructions are not read, and an XML declaration may only be the very first thing in a file; take it out',
    'xml-instruction',
  ],
  [/<\//y, 'this is no end tag; one is written </name>'],
  [/</y, 'a < by itself is not XML; write &lt;'],
];

const matchAt = (pattern: RegExp, text: string, offset: number): RegExpExecArray | null => {
  pattern.lastIndex = offset;
  return pattern.exec(text);
};

const fault = (message: string, offset: number, code = 'xml-syntax'): TextFault => ({
  code,
  message,
  offset,
});

/** How far the scan of a text has come. */
interface Scan {
  readonly text: string;
  readonly open: { readonly name: string; readonly offset: number }[];
  values: number;
  hasRoot: boolean;
  declaresNil: boolean;
}

/** Where the next thing begins, or why the text is refused. */
type Step = number | TextFault;

const passDeclaration = (text: string): Step => {
  if (!/^<\?xml[ \t\n]/.test(text)) return 0;
  const match = matchAt(declaration, text, 0);
  if (!match) return fault('the XML declaration reads <?xml version="1.0" encoding="UTF-8"?>', 0);
  const { version, encoding = 'UTF-8' } = match.groups ?? {};
  if (version !== '1.0') return fault(`XML ${quote(version)} is not read, only 1.0`, 0);
  const message = `the encoding ${quote(encoding)} is not read, only UTF-8; save the file as UTF-8 and say so here`;
  return /^utf-?8$/i.test(encoding) ? match[0].length : fault(message, 0, 'xml-encoding');
};

/** The first `&` of a piece that begins no reference to a character or to an entity every XML has. */
const referenceFault = (words: string, offset: number): TextFault | null => {
  for (let at = words.indexOf('&'); at !== -1; at = words.indexOf('&', at + 1)) {
    const [whole, decimal, hexadecimal] = matchAt(reference, words, at) ?? [];
    const code = decimal === undefined ? Number.parseInt(hexadecimal ?? '20', 16) : Number(decimal);
    if (whole !== undefined && code <= 0x10ffff && !forbidden.test(String.fromCodePoint(code))) continue;
    const entity = whole ?? /^&[^\s;&<"']{1,40};/.exec(words.slice(at, at + 42))?.[0];
    const wrong = whole
      ? `${quote(whole)} stands for a character that XML does not allow`
      : `the entity ${quote(entity)} is not read; only &amp; &lt; &gt; &quot; &apos; and numeric references such as &#233; are`;
    const message = entity ? wrong : 'an & by itself is not XML; write &amp;';
    return fault(message, offset + at, 'xml-entity');
  }
  return null;
};

const outsideWords = 'text stands outside the element';

const textFault = (words: string, at: number, isInside: boolean): TextFault | null => {
  const wrong = referenceFault(words, at);
  if (wrong) return wrong;
  const stray = isInside ? -1 : words.search(/[^ \t\n]/);
  if (stray !== -1) return fault(outsideWords, at + stray);
  const bracket = words.indexOf(']]>');
  return bracket === -1 ? null : fault(']]> in text is written ]]&gt;', at + bracket);
};

const endTagFault = ({ text, open }: Scan, called: string, at: number): TextFault | null => {
  const opened = open.pop();
  if (opened?.name === called) return null;
  const expected = opened
    ? `${quote(`<${opened.name}>`)} of line ${positionsIn(text)(opened.offset).line} ends with ${quote(`</${opened.name}>`)}`
    : 'no element is open here';
  return fault(`${quote(`</${called}>`)} does not fit: ${expected}`, at);
};

const attributeFault = (called: string, raw: string, offset: number, isRoot: boolean): TextFault | null => {
  const isOurs = called === 'xmlns:xsi' ? raw === instanceNamespace && isRoot : called === nilAttribute;
  const message = `${quote(called)}: no namespace is read but xmlns:xsi="${instanceNamespace}" on the first element, for xsi:nil`;
  const isStrange = (called.includes(':') || called === 'xmlns') && !isOurs;
  return referenceFault(raw, offset + 1) ?? (isStrange ? fault(message, offset, 'xml-namespace') : null);
};

/** Why an element cannot stand where it does, its tag being in order. */
const elementFault = (
  scan: Scan,
  called: string,
  at: number,
  nilAt: number | undefined,
): TextFault | null => {
  const undeclared = 'xsi:nil stands here, but the first element does not declare xmlns:xsi';
  if (nilAt !== undefined && !scan.declaresNil) return fault(undeclared, nilAt, 'xml-namespace');
  const never = `the element ${quote(called)} is never allowed; take it out`;
  if (forbiddenKeys.includes(called)) return fault(never, at, 'unknown-key');
  if (scan.values > mostValues) return fault(tooManyValues, at, 'too-many-values');
  const deep = `elements lie more than ${deepestNesting} deep in each other here; no file needs that`;
  return scan.open.length < deepestNesting ? null : fault(deep, at, 'too-deep');
};

/** A start tag from behind its name on: its attributes, and whether it may stand there. */
const passStartTag = (scan: Scan, called: string, at: number, nameEnd: number): Step => {
  const { text, open, hasRoot } = scan;
  if (open.length === 0 && hasRoot) return fault('a second element stands at the top; a file holds one', at);
  const prefixed = `the element ${quote(called)} has a namespace prefix; elements here have none`;
  if (called.includes(':')) return fault(prefixed, at, 'xml-namespace');
  const offsets = new Map<string, number>();
  let end = nameEnd;
  for (let found = matchAt(attribute, text, end); found; found = matchAt(attribute, text, end)) {
    const [whole, key = '', value = ''] = found;
    end += whole.length;
    const offset = end - value.length;
    const twice = `the attribute ${quote(key)} stands twice in one tag`;
    if (offsets.has(key)) return fault(twice, offset, 'duplicate-key');
    const wrong = attributeFault(key, value.slice(1, -1), offset, !hasRoot);
    if (wrong) return wrong;
    offsets.set(key, offset);
  }
  const ended = matchAt(startTagEnd, text, end);
  const strange = `this is no attribute of ${quote(`<${called}>`)}; attributes are written name="value", with a space before each, and < as &lt;`;
  if (!ended) return fault(strange, Math.min(end, text.length - 1));
  scan.hasRoot = true;
  scan.values += 1 + offsets.size;
  scan.declaresNil ||= offsets.has('xmlns:xsi');
  const wrong = elementFault(scan, called, at, offsets.get(nilAttribute));
  if (ended[1] === '') open.push({ name: called, offset: at });
  return wrong ?? startTagEnd.lastIndex;
};

const passPiece = (scan: Scan, at: number): Step => {
  const found = matchAt(piece, scan.text, at)?.groups;
  const end = piece.lastIndex;
  if (!found) {
    const [, message = '', code] = refusals.find(([begins]) => matchAt(begins, scan.text, at)) ?? [];
    return fault(message, at, code);
  }
  const { text, hyphens, cdata, closes, opens } = found;
  const isInside = scan.open.length > 0;
  if (opens !== undefined) return passStartTag(scan, opens, at, end);
  if (closes !== undefined) return endTagFault(scan, closes, at) ?? end;
  if (text !== undefined) return textFault(text, at, isInside) ?? end;
  if (hyphens === '--') return fault('two hyphens may not stand inside a comment', end - 2);
  return cdata !== undefined && !isInside ? fault(outsideWords, at) : end;
};

/**
 * Scans an XML text once and tells the first thing that the parser behind it would let pass or stumble over: what is
 * not well-formed (XML 1.0), and what is refused though it is (document types, instructions, namespaces, deep nesting).
 */
export const scanXml = (text: string): TextFault | null => {
  const strangeAt = forbiddenCharacterAt(text);
  const strange = `${quote(text.charAt(strangeAt))} is a character that XML does not allow`;
  if (strangeAt !== -1) return fault(strange, strangeAt, 'xml-character');
  const scan: Scan = { text, open: [], values: 0, hasRoot: false, declaresNil: false };
  let at = passDeclaration(text);
  while (typeof at === 'number' && at < text.length) at = passPiece(scan, at);
  if (typeof at !== 'number') return at;
  const unclosed = scan.open.at(-1);
  const message = `${quote(`<${unclosed?.name}>`)} begins here and is never closed; is the file cut short?`;
  if (unclosed) return fault(message, unclosed.offset);
  return scan.hasRoot ? null : fault('there is no element in this file', 0);
};
