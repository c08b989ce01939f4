import fc from 'fast-check';
import {
  fromBuffer,
  type OscArgOutputOrArray,
  type OscPacketInput,
  type OscPacketOutput,
  toBuffer,
} from 'osc-min';
import { describe, expect, it } from 'vitest';
import { immediately, isBundle, type OscPacket } from '../../src/osc/codec.js';
import { joinLengthPrefixed } from '../../src/osc/framing/length-prefix.js';
import type { OscArgument, OscMessage } from '../../src/osc/message.js';
import { message, packet } from '../osc/arbitrary.js';
import { codec, encoded, hex, toHex } from '../osc/bytes.js';

// OpenSoundControl Specification 1.0 (Wright 2002), "Examples of OSC messages": both byte for byte.
const examples: readonly [string, OscMessage, string][] = [
  [
    '/oscillator/4/frequency 440.0',
    { address: '/oscillator/4/frequency', args: [{ type: 'f', value: 440 }] },
    '2f6f7363 696c6c61 746f722f 342f6672 65717565 6e637900 2c660000 43dc0000',
  ],
  [
    '/foo 1000, -1, "hello", 1.234, 5.678',
    {
      address: '/foo',
      args: [
        { type: 'i', value: 1000 },
        { type: 'i', value: -1 },
        { type: 's', value: 'hello' },
        { type: 'f', value: Math.fround(1.234) },
        { type: 'f', value: Math.fround(5.678) },
      ],
    },
    '2f666f6f 00000000 2c696973 66660000 000003e8 ffffffff 68656c6c 6f000000 3f9df3b6 40b5b22d',
  ],
];

describe('OpenSoundControl 1.0', () => {
  it.each(examples)('the example %s', (_, example, bytes) => {
    expect(toHex(encoded(example))).toBe(toHex(hex(bytes)));
    expect(codec.decode(hex(bytes))).toEqual({ ok: true, value: example });
  });

  // "OSC-string" under "Atomic data types": OSC and data, with their NULs.
  it.each([
    ['OSC', '4f534300'],
    ['data', '6461746100000000'],
  ])('the string example %s', (text, bytes) => {
    const sent = encoded({ address: '/a', args: [{ type: 's', value: text }] });
    expect(toHex(sent.subarray(8))).toBe(bytes);
  });

  it('a bundle begins with its name and, when due at once, 63 zero bits and a one', () => {
    // "OSC Bundles" and "Time Tags".
    const bundle = encoded({ timeTag: immediately, elements: [{ address: '/a', args: [] }] });
    expect(toHex(bundle)).toBe('2362756e646c6500' + '0000000000000001' + '00000008' + '2f6100002c000000');
  });

  it('a stream has the size of each packet before it as an int32', () => {
    // "OSC Packets".
    const [, , bytes] = examples[0] ?? ['', '', ''];
    expect(toHex(joinLengthPrefixed([hex(bytes)]))).toBe(`00000020${toHex(hex(bytes))}`);
  });
});

const halves = (value: bigint): [number, number] => [Number(value >> 32n), Number(value & 0xffffffffn)];

/** What osc-min calls each type. */
const named = (argument: OscArgument): OscArgOutputOrArray => {
  switch (argument.type) {
    case 'i':
      return { type: 'integer', value: argument.value };
    case 'f':
      return { type: 'float', value: argument.value };
    case 'd':
      return { type: 'double', value: argument.value };
    case 'h':
      return { type: 'bigint', value: argument.value };
    case 't':
      return { type: 'timetag', value: halves(argument.value) };
    case 's':
      return { type: 'string', value: argument.value };
    case 'b':
      return { type: 'blob', value: new DataView(Uint8Array.from(argument.value).buffer) };
    case 'T':
      return { type: 'true', value: true };
    case 'F':
      return { type: 'false', value: false };
    case 'N':
      return { type: 'null', value: null };
    case 'I':
      return { type: 'bang', value: 'bang' };
  }
};

const asOscMin = (sent: OscPacket): OscPacketOutput =>
  isBundle(sent)
    ? { oscType: 'bundle', timetag: halves(sent.timeTag), elements: sent.elements.map(asOscMin) }
    : { oscType: 'message', address: sent.address, args: sent.args.map(named) };

/** Blobs as numbers, so that equality looks at their bytes and not at the buffers behind them. */
const plain = (value: unknown): unknown => {
  if (value instanceof DataView) return [...new Uint8Array(value.buffer, value.byteOffset, value.byteLength)];
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, plain(inner)]));
};

/** osc-min drops a byte order mark when it reads a string; the standard knows nothing of it. */
const hasMark = (sent: OscPacket): boolean =>
  isBundle(sent)
    ? sent.elements.some(hasMark)
    : sent.args.some((argument) => argument.type === 's' && argument.value.startsWith('\uFEFF'));

const bytesOf = (view: DataView): Uint8Array => new Uint8Array(view.buffer, view.byteOffset, view.byteLength);

describe('osc-min 2.1.2, an independent codec', () => {
  it('reads every packet we write', () => {
    fc.assert(
      fc.property(fc.oneof(message, packet), (sent) => {
        fc.pre(!hasMark(sent));
        expect(plain(fromBuffer(encoded(sent)))).toEqual(plain(asOscMin(sent)));
      }),
      { numRuns: 500 },
    );
  });

  it('writes packets that we read, and the same bytes', () => {
    fc.assert(
      fc.property(fc.oneof(message, packet), (sent) => {
        const bytes = bytesOf(toBuffer(asOscMin(sent) as OscPacketInput));
        expect(codec.decode(bytes)).toEqual({ ok: true, value: sent });
        expect(toHex(encoded(sent))).toBe(toHex(bytes));
      }),
      { numRuns: 500 },
    );
  });
});
