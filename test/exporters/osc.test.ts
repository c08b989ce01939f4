import { fromBuffer } from 'osc-min';
import { describe, expect, it } from 'vitest';
import { messageLine, osc } from '../../src/exporters/osc.js';
import { oscBinary } from '../../src/exporters/osc-binary.js';
import { oscBundle } from '../../src/exporters/osc-bundle.js';
import type { OscArgument } from '../../src/osc/message.js';
import { bytesOf, textOf, withFirstMix } from './export.js';
import { recipe } from './fixture.js';
import { target } from './fixture-target.js';

const lines = (await textOf(osc)).trimEnd().split('\n');

describe('a message as a line', () => {
  it.each<[string, OscArgument[]]>([
    ['/a ,', []],
    ['/a ,i -5', [{ type: 'i', value: -5 }]],
    ['/a ,f 19320', [{ type: 'f', value: 19320 }]],
    // IEEE 754 binary32: the shortest decimals that give these floats again.
    ['/a ,f 0.1', [{ type: 'f', value: Math.fround(0.1) }]],
    ['/a ,f 0.33333334', [{ type: 'f', value: Math.fround(1 / 3) }]],
    ['/a ,f 0.0009765625', [{ type: 'f', value: 2 ** -10 }]],
    ['/a ,f 16777215', [{ type: 'f', value: 16777215 }]],
    ['/a ,d 0.1', [{ type: 'd', value: 0.1 }]],
    ['/a ,d 0', [{ type: 'd', value: -0 }]],
    ['/a ,h -9223372036854775808', [{ type: 'h', value: -(2n ** 63n) }]],
    ['/a ,t 1', [{ type: 't', value: 1n }]],
    ['/a ,s "Low \\"cut\\""', [{ type: 's', value: 'Low "cut"' }]],
    ['/a ,s "\\u001b[2J\\u{202e}"', [{ type: 's', value: '\u001b[2J\u202e' }]],
    ['/a ,b x00ff', [{ type: 'b', value: Uint8Array.of(0, 255) }]],
    ['/a ,TiN 1', [{ type: 'T' }, { type: 'i', value: 1 }, { type: 'N' }]],
  ])('%s', (line, args) => {
    expect(messageLine({ address: '/a', args })).toBe(line);
  });
});

describe('a recipe as OSC', () => {
  it('is one line a message, in the order to send them', () => {
    expect(lines.slice(4, 10)).toEqual([
      '/mix/3/filter/3/on ,i 0',
      '/mix/3/filter/3/type ,i 0',
      '/mix/3/filter/3/frequency ,f 19320',
      '/mix/3/filter/3/q ,i 57',
      '/mix/3/filter/3/gain ,f 0',
      '/mix/3/filter/3/on ,i 1',
    ]);
    expect(lines).toContain('/mix/11/filter/2/bandwidth ,s "0.500 oct"');
    expect(lines.every((line) => /^\/mix\/\d+\/filter\/\w+\/[a-z]+ ,[ifs] \S/.test(line))).toBe(true);
  });

  const addresses = lines.map((line) => line.split(' ')[0]);

  it('is a stream of packets, each behind its size, that osc-min reads', async () => {
    const stream = await bytesOf(oscBinary);
    const view = new DataView(stream.buffer, stream.byteOffset, stream.byteLength);
    const read: unknown[] = [];
    for (let at = 0; at < stream.length; ) {
      const size = view.getInt32(at);
      read.push(fromBuffer(stream.slice(at + 4, at + 4 + size)));
      at += 4 + size;
    }
    expect(read.map((packet) => (packet as { address: string }).address)).toEqual(addresses);
    expect(read[6]).toEqual({
      oscType: 'message',
      address: '/mix/3/filter/3/frequency',
      args: [{ type: 'float', value: 19320 }],
    });
  });

  it('is a bundle due at once that osc-min reads', async () => {
    const bundle = fromBuffer(await bytesOf(oscBundle));
    if (bundle.oscType !== 'bundle') throw new Error('no bundle');
    expect(bundle.timetag).toEqual([0, 1]);
    expect(bundle.elements.map((element) => (element as { address: string }).address)).toEqual(addresses);
  });

  it('is not one bundle when no datagram holds it', async () => {
    const many = { ...recipe, mixes: Array.from({ length: 60 }, () => recipe.mixes).flat() };
    const outcome = oscBundle.content(many, { target });
    expect(outcome.ok ? [] : outcome.error).toEqual([
      {
        code: 'osc-bundle-unfit',
        path: 'mixes',
        message: expect.stringMatching(/65507.*Export osc-binary instead/),
      },
    ]);
    expect(oscBinary.content(many, { target }).ok).toBe(true);
  });

  it.each([osc, oscBinary, oscBundle])('$name tells why there is none', async (exporter) => {
    const { osc: _, ...silent } = target;
    const outcome = exporter.content(recipe, { target: silent });
    expect(outcome.ok ? [] : outcome.error).toEqual([
      { code: 'osc-missing', path: 'osc', message: expect.stringMatching(/dial the recipe by hand/) },
    ]);
  });

  it('is empty where every mix is left alone', async () => {
    const none = withFirstMix({ treatment: 'leave-alone', filters: [], guard: null });
    expect(await textOf(osc, none)).toBe('');
    expect(await bytesOf(oscBinary, none)).toHaveLength(0);
  });
});
