import { describe, expect, it } from 'vitest';
import { readTarget } from '../../src/documents/read.js';
import { writeJson } from '../../src/documents/write-json.js';
import { writeXml } from '../../src/documents/write-xml.js';
import type { Target } from '../../src/model/target.js';
import { expectProblem, sampleText, spoilt } from './samples.js';

const bare = writeXml(spoilt('target', {}) as Target);
const place = '<entry key="slopes" kind="table" values="12 24"/>';
if (!bare.includes(place)) throw new Error(`the sample does not hold ${place}`);

const attribute = (values: string): string =>
  bare.replace(place, `<entry key="slopes" kind="table" values="${values}"/>`);
const element = (inside: string): string =>
  bare.replace(place, `<entry key="slopes" kind="table">${inside}</entry>`);

const valuesIn = (text: string): unknown => {
  const read = readTarget(text, { source: 'x' });
  return read.ok ? read.value.quantisers.slopes?.values : read.error;
};

/** Written by hand in either syntax, as the schema's own words have them. */
describe('the values of a table', () => {
  it.each<[string, string, string | readonly number[]]>([
    ['a list', attribute(' 12  24'), [12, 24]],
    ['a text with commas', attribute('12, 24'), '12, 24'],
    ['a text with a unit', attribute(' 12dB/oct 24'), ' 12dB/oct 24'],
    ['a text that would be a list', element('<values value="12 24"/>'), '12 24'],
    ['a text on two lines', attribute('12&#10;24 dB/oct'), '12\n24 dB/oct'],
  ])('are %s in XML as in JSON, and are written so', (_, xml, values) => {
    const json = sampleText('target', { 'quantisers.slopes.values': values });
    for (const text of [xml, json]) {
      const read = readTarget(text, { source: 'x' });
      if (!read.ok) throw new Error(JSON.stringify(read.error));
      expect(read.value.quantisers.slopes?.values).toEqual(values);
      expect(valuesIn(writeXml(read.value))).toEqual(values);
      expect(valuesIn(writeJson(read.value))).toEqual(values);
    }
  });

  it.each<[string, string, { readonly code: string; readonly path: string; readonly says: string }]>([
    [
      'neither',
      sampleText('target', { 'quantisers.slopes.values': 12 }),
      { code: 'wrong-type', path: 'quantisers.slopes.values', says: 'where a list or text belongs' },
    ],
    [
      'an invisible character',
      sampleText('target', { 'quantisers.slopes.values': '12,\u200b24' }),
      { code: 'bad-text', path: 'quantisers.slopes.values', says: 'no control or invisible characters' },
    ],
    [
      'attribute and element at once',
      bare.replace(place, place.replace('/>', '><values value="12"/></entry>')),
      { code: 'duplicate-key', path: 'quantisers.slopes.values', says: 'more than once' },
    ],
    [
      'an element with more than a text',
      element('<values value="12"><item value="24"/></values>'),
      { code: 'xml-form', path: 'quantisers.slopes.values', says: 'write it as an attribute' },
    ],
  ])('are not %s', async (_, text, expected) => {
    await expectProblem(text, expected);
  });
});
