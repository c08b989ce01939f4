import { type Child, type Element, element } from './markup.js';

/** Texts without those that are empty or were not given. */
export const givenTexts = (texts: readonly (string | undefined)[]): readonly string[] =>
  texts.flatMap((text) => (text === undefined || text === '' ? [] : [text]));

/** A text from outside, kept from turning round what stands beside it. */
export const named = (text: string, more: Readonly<Record<string, string>> = {}): Element =>
  element('bdi', more, text);

/** A part of a page under a heading of its own. */
export const section = (
  id: string,
  title: Child,
  ...children: readonly (Child | readonly Child[])[]
): Element =>
  element(
    'section',
    { id, 'aria-labelledby': `${id}-title` },
    element('h2', { id: `${id}-title` }, title),
    ...children,
  );

/** The head of a table: what stands in each column. */
export const heads = (...texts: readonly string[]): Element =>
  element(
    'thead',
    {},
    element(
      'tr',
      {},
      texts.map((text) => element('th', { scope: 'col' }, text)),
    ),
  );

/** Something to type, of which a word that has room on a line is not broken. */
const typedElement = (text: string): Element =>
  element(
    'code',
    {},
    text
      .split(' ')
      .flatMap((word, index) => [...(index === 0 ? [] : [' ']), element('span', { class: 'word' }, word)]),
  );

/** Something to type, on lines of its own. */
export const command = (text: string): Element => element('pre', {}, typedElement(text));

/** A page has more characters than a terminal may have. */
export const typeset = (text: string): string => text.replaceAll('+-', '±').replaceAll('->', '→');

/** A text in which no line ends between a number and its unit. */
export const unbroken = (text: string): string =>
  text.replaceAll(/(\d) (?=(?:k?Hz|dB|cents|oct)\b)|(x|Q) (?=\d)/g, '$1$2\u00a0');

/** Commands of ours within a sentence: a word in capitals is something to put in. */
const commandIn = /(bandwright [a-z]+(?: [A-Z]+\b)*(?: --[a-z-]+(?: [A-Z]+\b)*)*)/;

/** Sentences, a paragraph each. */
export const paragraphs = (texts: readonly string[], className?: string): readonly Element[] =>
  texts.map((text) =>
    element(
      'p',
      { class: className },
      text
        .split(commandIn)
        .filter((part) => part !== '')
        .map((part) => (commandIn.test(part) ? typedElement(part) : named(unbroken(typeset(part))))),
    ),
  );

/** Figures by name, small, two columns where there is room. */
export const figuresList = (pairs: readonly (readonly [what: string, told: string])[]): Element =>
  element(
    'dl',
    { class: 'pairs' },
    pairs.map(([what, told]) =>
      element('div', {}, element('dt', {}, what), element('dd', {}, named(unbroken(told)))),
    ),
  );

/** What stands on top of a page: what it is about, and the one thing to know. */
export interface PageHead {
  readonly title: string;
  /** What it is of, a line each. */
  readonly under: readonly string[];
  /** Where the show is, and when; what is empty is left out. */
  readonly when?: readonly (string | undefined)[];
  readonly verdict: { readonly text: string; readonly is: 'good' | 'bad' | 'plain' };
  readonly caution?: string;
}

/** The head of a page that is no recipe. */
export const pageHead = ({ title, under, when = [], verdict, caution }: PageHead): Element => {
  const told = givenTexts(when).join(', ');
  return element(
    'header',
    {},
    element('h1', {}, named(title)),
    ...paragraphs(under),
    ...(told === '' ? [] : paragraphs([told], 'quiet')),
    element(
      'p',
      { class: verdict.is === 'plain' ? 'verdict' : `verdict ${verdict.is}` },
      named(unbroken(verdict.text)),
    ),
    ...(caution === undefined ? [] : [element('p', { class: 'caution' }, caution)]),
  );
};
