import { describe, expect, it } from 'vitest';
import { readTarget } from '../../src/documents/read.js';
import { writeXml } from '../../src/documents/write-xml.js';
import type { Target } from '../../src/model/target.js';
import { expectProblem, sampleText, spoilt } from './samples.js';

const bare = writeXml(spoilt('target', { 'outputs.count': 16 }) as Target);
const place = 'stereo="legs-share"';
if (!bare.includes(place)) throw new Error(`the sample does not hold ${place}`);

const xmlWith = (pairs: string): string => bare.replace(place, `${place} pairs="${pairs}"`);

/** Written by hand in either syntax, as the schema's own words have them. */
describe('the pairs of a target', () => {
  it.each<[string, NonNullable<Target['outputs']['pairs']>]>([
    ['odd-even', 'odd-even'],
    ['any', 'any'],
    [' any ', 'any'],
    ['1/2', ['1/2']],
    ['1/2  16/15', ['1/2', '16/15']],
  ])('read "%s" in XML as JSON has it', async (written, pairs) => {
    for (const text of [xmlWith(written), sampleText('target', { 'outputs.pairs': pairs })]) {
      const read = readTarget(text, { source: 'x' });
      expect(read.ok ? read.value.outputs : read.error).toEqual({ count: 16, stereo: 'legs-share', pairs });
    }
  });

  it.each<[string, unknown, { readonly code: string; readonly path: string; readonly says: string }]>([
    ['none', 'none', { code: 'bad-text', path: 'outputs.pairs', says: 'any (whoever sets the desk up' }],
    ['12', '12', { code: 'bad-text', path: 'outputs.pairs', says: '"12" does not fit' }],
    ['', [], { code: 'wrong-count', path: 'outputs.pairs', says: '1 to 512' }],
    ['1/2 any', ['1/2', 'any'], { code: 'bad-text', path: 'outputs.pairs[1]', says: 'as in 1/2' }],
    ['1/2 3-4', ['1/2', '3-4'], { code: 'bad-text', path: 'outputs.pairs[1]', says: 'as in 1/2' }],
    ['1/2 0/3', ['1/2', '0/3'], { code: 'bad-text', path: 'outputs.pairs[1]', says: 'as in 1/2' }],
    ['1/2 1/2', ['1/2', '1/2'], { code: 'repeated-item', path: 'outputs.pairs', says: '' }],
  ])('are no "%s"', async (written, pairs, expected) => {
    await expectProblem(xmlWith(written), expected);
    await expectProblem(sampleText('target', { 'outputs.pairs': pairs }), expected);
  });

  it('are text or a list', () =>
    expectProblem(sampleText('target', { 'outputs.pairs': 2 }), {
      code: 'wrong-type',
      path: 'outputs.pairs',
      says: '2 is a number where text or a list belongs',
    }));
});
