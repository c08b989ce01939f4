import { printable } from '../units/quote.js';

/** What an element may say of itself; what is undefined is not written. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** An element of HTML or SVG. */
export interface Element {
  readonly name: string;
  readonly attributes: Attributes;
  readonly children: readonly Child[];
}

/** An element or a text. */
export type Child = Element | string;

/** An element; children may be lists, since most come from some. */
export const element = (
  name: string,
  attributes: Attributes = {},
  ...children: readonly (Child | readonly Child[])[]
): Element => ({ name, attributes, children: children.flat() });

const escapes: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

const escaped = (text: string): string => text.replace(/[&<>"']/g, (character) => escapes[character] ?? '');

/** Joiners make one emoji, or one word of some scripts, of several characters. */
const joiners = /([\u200c\u200d])/;

/**
 * A text as a page shows it: what rewrites what stands beside it, such as overrides of direction, is shown as an escape.
 */
const shown = (text: string): string =>
  escaped(
    text
      .split(joiners)
      .map((part) => (joiners.test(part) ? part : printable(part)))
      .join(''),
  );

/** Elements that end where they begin: those that HTML has without an end tag, and shapes of SVG. */
const voids: ReadonlySet<string> = new Set([
  'meta',
  'input',
  'br',
  'hr',
  'link',
  'path',
  'rect',
  'circle',
  'use',
]);

/** Elements whose text HTML takes as it stands. */
const raws: ReadonlySet<string> = new Set(['style', 'script']);

/** Throws RangeError for a text that would end the element it stands in. */
const rawText = (name: string, children: readonly Child[]): string => {
  const text = children.map((child) => (typeof child === 'string' ? child : '')).join('');
  if (/<\/|<!--/.test(text)) throw new RangeError(`${name} cannot hold its own end`);
  return text;
};

/**
 * Markup that HTML (WHATWG HTML, section 13.1) and, where nothing is `style` or `script`, XML 1.0 take alike: every text and
 * value from outside is escaped, every element is closed. Same elements, same bytes.
 */
export const markup = ({ name, attributes, children }: Element): string => {
  const told = Object.entries(attributes)
    .flatMap(([key, value]) => (value === undefined ? [] : ` ${key}="${shown(String(value))}"`))
    .join('');
  if (children.length === 0 && voids.has(name)) return `<${name}${told}/>`;
  const inside = raws.has(name)
    ? rawText(name, children)
    : children.map((child) => (typeof child === 'string' ? shown(child) : markup(child))).join('');
  return `<${name}${told}>${inside}</${name}>`;
};
