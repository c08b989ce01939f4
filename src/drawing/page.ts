import { base64DigestOf } from '../units/digest.js';
import { type Child, element, markup } from './markup.js';
import { pageStyle } from './page-style.js';
import { withSharedParts } from './shared-parts.js';

/** How a content security policy names what may run or dress a page (CSP Level 3, section 2.3.1). */
const allowed = (text: string): string => `'sha256-${base64DigestOf(text)}'`;

/** What a page is made of. */
export interface PageParts {
  readonly title: string;
  /** Tells pages of different content apart, so that each keeps what it remembers to itself. */
  readonly id: string;
  /** Runs once the page is there; nothing else runs. None where the page needs none. */
  readonly script?: string;
  readonly body: readonly Child[];
}

/**
 * A page that stands alone: one file, no network, and by its own policy nothing runs or dresses it but what it was made with.
 */
export const pageText = ({ title, id, script, body }: PageParts): string => {
  const policy = [
    "default-src 'none'",
    `style-src ${allowed(pageStyle)}`,
    `script-src ${script === undefined ? "'none'" : allowed(script)}`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
  const page = element(
    'html',
    { lang: 'en', 'data-page': id },
    element(
      'head',
      {},
      element('meta', { charset: 'utf-8' }),
      element('meta', { 'http-equiv': 'Content-Security-Policy', content: policy }),
      element('meta', { name: 'viewport', content: 'width=device-width, initial-scale=1' }),
      element('meta', { name: 'referrer', content: 'no-referrer' }),
      element('title', {}, title),
      element('style', {}, pageStyle),
    ),
    element(
      'body',
      {},
      withSharedParts(body),
      ...(script === undefined ? [] : [element('script', {}, script)]),
    ),
  );
  return `<!DOCTYPE html>\n${markup(page)}\n`;
};
