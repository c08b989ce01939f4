import { DOMParser as XmlParser } from '@xmldom/xmldom';
import fc from 'fast-check';
import { XMLValidator } from 'fast-xml-parser';
import { describe, expect, it } from 'vitest';
import { element, markup } from '../../src/drawing/markup.js';
import { chromiumPath } from '../browser/installed.js';
import { useBrowser } from '../browser/look.js';

/**
 * What a page shows of a text: controls, format characters and lone surrogates by their numbers, joiners as they are
 * (Unicode general categories Cc, Cf, Cs; U+200C and U+200D).
 */
const shownText = (text: string): string =>
  [...text]
    .map((character) =>
      /[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/u.test(character) && !'\u200c\u200d'.includes(character)
        ? `\\u{${character.codePointAt(0)?.toString(16)}}`
        : character,
    )
    .join('');

/** Marks that markup, styles or scripts take for their own, and what turns lines round. */
const awkward = [
  '<script>alert(1)</script>',
  '</style>',
  '</text></svg>',
  '<!--',
  '-->',
  ']]>',
  '<![CDATA[',
  '&amp;',
  '&#60;',
  '&lt',
  '"',
  "'",
  '`',
  '<?xml',
  '\u202etxt',
  '\u2066',
  '\u200f',
  'ع',
  'ש',
  '👩‍🎤',
  '👨‍👩‍👧‍👦',
  'e\u0301',
  '\r\n',
  '\t',
  '\0',
  '\ud800',
  ' ',
];

const texts = fc
  .array(fc.oneof(fc.constantFrom(...awkward), fc.string({ unit: 'binary', maxLength: 6 })), { maxLength: 6 })
  .map((parts) => parts.join(''))
  // XML 1.0 has no way to write these two, and files may not hold them.
  .filter((text) => !/[\ufffe\uffff]/.test(text));

const written = (text: string): string =>
  markup(element('g', { 'data-of': text }, element('text', {}, text)));

const readXml = (xml: string) =>
  new XmlParser({
    onError: (level, message) => {
      throw new Error(`${level}: ${message}`);
    },
  }).parseFromString(xml, 'text/xml').documentElement;

describe('markup', () => {
  it('is read by an XML parser as the text that went in, in content and in attributes', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const xml = written(text);
        expect(XMLValidator.validate(xml)).toBe(true);
        const read = readXml(xml);
        expect([read?.getAttribute('data-of'), read?.textContent]).toEqual([
          shownText(text),
          shownText(text),
        ]);
        expect(read?.getElementsByTagName('*').length).toBe(1);
      }),
      { numRuns: 500 },
    );
  });

  it('refuses a style or script that would end itself', () => {
    for (const text of ['</style>', 'a</script', '<!--'])
      expect(() => markup(element('style', {}, text))).toThrow(RangeError);
  });
});

const { browser } = useBrowser();

describe.skipIf(!chromiumPath)('markup in a browser', () => {
  it('is read as the text that went in, by HTML too, and shown so', async () => {
    const samples = [...awkward, awkward.join(''), ...fc.sample(texts, 300)];
    const page = await browser().newPage();
    const wrong = await page.evaluate(
      (pairs) =>
        pairs.filter(([html, text]) => {
          const { body } = new DOMParser().parseFromString(`<!DOCTYPE html><body>${html}`, 'text/html');
          const holder = document.body.appendChild(document.createElement('div'));
          holder.innerHTML = html ?? '';
          return [body, holder].some(
            (each) =>
              each.childElementCount !== 1 ||
              each.querySelectorAll('*').length !== 2 ||
              each.textContent !== text ||
              each.firstElementChild?.getAttribute('data-of') !== text,
          );
        }),
      samples.map((text) => [written(text), shownText(text)]),
    );
    expect(wrong).toEqual([]);
    await page.close();
  });
});
