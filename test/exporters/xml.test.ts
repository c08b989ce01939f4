import { DOMParser } from '@xmldom/xmldom';
import { expect, it } from 'vitest';
import { readDocument } from '../../src/documents/read.js';
import { xml } from '../../src/exporters/xml.js';
import { textOf, withFirstMix } from './export.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

const content = await textOf(xml);

it('reads back without loss', async () => {
  const read = readDocument(content, { source: 'recipe.xml' });
  if (!read.ok) throw new Error(read.error.map(({ message }) => message).join('\n'));
  // JSON has no negative zero, and neither has the file.
  expect(read.value).toEqual(JSON.parse(JSON.stringify(recipe)));
});

it('is XML that xmldom 0.9.12, an independent parser, reads without complaint', () => {
  const complaints: string[] = [];
  const read = new DOMParser({ onError: (_, message) => complaints.push(message) });
  const root = read.parseFromString(content, 'text/xml').documentElement;
  expect(complaints).toEqual([]);
  expect(root?.getAttribute('format')).toBe('bandwright-recipe/1');
  expect(content).toContain('Drums, &quot;sub&quot;');
});

it('writes what a terminal would obey as references, and reads it back', async () => {
  const name = 'Zo\u0308e \u{1f469}\u200d\u{1f3a4}';
  const written = await textOf(xml, withFirstMix({ name }));
  expect(written).toContain('&#x200d;');
  const read = readDocument(written, { source: 'recipe.xml' });
  expect(read.ok && read.value).toMatchObject({ mixes: [{ name }] });
});

// Extensible Markup Language 1.0, production 2: no form of these may stand in a document.
it.each(['\u0000', '\u001b', '\ud800', '\ufffe'])(
  'tells where %j stands, which XML cannot hold',
  async (character) => {
    const outcome = xml.content(withFirstMix({ name: `a${character}` }), { target });
    expect(outcome.ok ? [] : outcome.error).toEqual([
      { code: 'xml-unwritable', path: 'mixes[0].name', message: expect.stringMatching(/no way to write/) },
    ]);
  },
);
