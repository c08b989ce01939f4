import { DOMParser, type Element, type Node } from '@xmldom/xmldom';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AnyDocument } from '../../src/documents/documents.js';
import { readDocument } from '../../src/documents/read.js';
import { writeJson } from '../../src/documents/write-json.js';
import { writeXml } from '../../src/documents/write-xml.js';
import { readElements, type XmlElement } from '../../src/documents/xml/elements.js';
import { documents } from './documents.js';

const read = async (text: string): Promise<unknown> => {
  const outcome = readDocument(text, { source: 'law' });
  return outcome.ok ? outcome.value : outcome.error;
};

/** An element as both parsers can tell it: its name, its attributes by name, its elements in order. */
interface Told {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Told[];
}

const toldByUs = ({ name, attributes, children }: XmlElement): Told => ({
  name,
  attributes: Object.fromEntries(attributes),
  children: children.map(toldByUs),
});

const isElement = (node: Node): node is Element => node.nodeType === 1;

const toldByXmldom = (element: Element): Told => ({
  name: element.tagName,
  attributes: Object.fromEntries([...element.attributes].map(({ name, value }) => [name, value])),
  children: [...element.childNodes].filter(isElement).map(toldByXmldom),
});

const parsedByXmldom = (xml: string): Told => {
  const parser = new DOMParser({
    onError: (level, message) => {
      // It warns of U+FFFD, which may stand in text.
      if (level !== 'warning') throw new Error(`${level}: ${message}`);
    },
  });
  const root = parser.parseFromString(xml, 'text/xml').documentElement;
  if (!root) throw new Error('xmldom finds no element');
  return toldByXmldom(root);
};

const parsedByUs = (xml: string): Told => {
  const parsed = readElements(xml);
  if (!parsed.ok) throw new Error(parsed.error.message);
  return toldByUs(parsed.value);
};

describe.each(Object.entries(documents))('a %s', (_, arbitrary) => {
  it('comes back from JSON and from XML as it was, and is written the same again', () =>
    fc.assert(
      fc.asyncProperty(arbitrary, async (plain) => {
        const document = plain as unknown as AnyDocument;
        expect(await read(JSON.stringify(document))).toEqual(document);
        const xml = writeXml(document);
        const back = await read(xml);
        expect(back).toEqual(document);
        expect(writeXml(back as AnyDocument)).toBe(xml);
        const json = writeJson(document);
        expect(await read(json)).toEqual(document);
        expect(writeJson(back as AnyDocument)).toBe(json);
      }),
      { numRuns: Number(process.env.RUNS ?? 30) },
    ));

  // Source: @xmldom/xmldom 0.9.12, a parser independent of the one used here.
  it('has the same elements and attributes to another XML parser', () =>
    fc.assert(
      fc.asyncProperty(arbitrary, async (plain) => {
        const xml = writeXml(plain as unknown as AnyDocument);
        expect(parsedByXmldom(xml)).toEqual(parsedByUs(xml));
      }),
      { numRuns: Number(process.env.RUNS ?? 30) },
    ));
});
