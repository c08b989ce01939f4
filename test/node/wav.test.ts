import { describe, expect, it } from 'vitest';
import { wavBytes } from '../../src/node/wav.js';
import type { Stereo } from '../../src/simulator/stereo.js';
import { hz } from '../../src/units/quantity.js';

const audio = (left: readonly number[], right: readonly number[], rateHz = 48000): Stereo => ({
  sampleRateHz: hz(rateHz),
  left: Float64Array.from(left),
  right: Float64Array.from(right),
});

/** Chunks of a RIFF file by their names, read from its sizes alone. */
const chunksOf = (bytes: Uint8Array): ReadonlyMap<string, DataView> => {
  const view = new DataView(bytes.buffer);
  const text = (at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));
  const end = 8 + view.getUint32(4, true);
  const chunks = new Map<string, DataView>();
  let at = 12;
  while (at < end) {
    const size = view.getUint32(at + 4, true);
    chunks.set(text(at), new DataView(bytes.buffer, at + 8, size));
    at += 8 + size + (size % 2);
  }
  expect(at).toBe(bytes.length);
  return chunks;
};

/** A little-endian integer of 24 bits in two's complement. */
const integer24 = (data: DataView, at: number): number => {
  const unsigned = data.getUint8(at) + 2 ** 8 * data.getUint8(at + 1) + 2 ** 16 * data.getUint8(at + 2);
  return unsigned < 2 ** 23 ? unsigned : unsigned - 2 ** 24;
};

describe('a WAV file', () => {
  it('is the bytes of the published layout, one frame by hand', () => {
    // IBM and Microsoft, Multimedia Programming Interface and Data Specifications 1.0 (1991): RIFF, WAVE, PCM.
    const expected = [
      ...[0x52, 0x49, 0x46, 0x46], // "RIFF"
      ...[0x2a, 0, 0, 0], // 42 bytes follow: 4 + (8 + 16) + (8 + 6)
      ...[0x57, 0x41, 0x56, 0x45], // "WAVE"
      ...[0x66, 0x6d, 0x74, 0x20], // "fmt "
      ...[16, 0, 0, 0],
      ...[1, 0], // linear PCM
      ...[2, 0], // two channels
      ...[0x80, 0xbb, 0, 0], // 48000 frames a second
      ...[0x00, 0x65, 0x04, 0], // 288000 bytes a second
      ...[6, 0], // bytes a frame
      ...[24, 0], // bits a sample
      ...[0x64, 0x61, 0x74, 0x61], // "data"
      ...[6, 0, 0, 0],
      ...[0xff, 0xff, 0x7f], // full scale, 2²³ − 1
      ...[0x01, 0x00, 0x80], // −(2²³ − 1)
    ];
    expect([...wavBytes(audio([1], [-1]))]).toEqual(expected);
  });

  it('comes back by its own sizes, left before right, to half a step', () => {
    const left = [0, 0.5, -0.5, 1e-7, -1e-7, 0.123456789];
    const right = [1, -1, 0.999, -0.999, 0.25, -0];
    const chunks = chunksOf(wavBytes(audio(left, right, 44100)));
    expect([...chunks.keys()]).toEqual(['fmt ', 'data']);
    expect(chunks.get('fmt ')?.getUint32(4, true)).toBe(44100);
    const data = chunks.get('data');
    if (!data) throw new Error('no data');
    expect(data.byteLength).toBe(6 * left.length);
    left.forEach((sample, n) => {
      expect(Math.abs(integer24(data, 6 * n) - sample * (2 ** 23 - 1))).toBeLessThanOrEqual(0.5);
      const other = (right[n] ?? Number.NaN) * (2 ** 23 - 1);
      expect(Math.abs(integer24(data, 6 * n + 3) - other)).toBeLessThanOrEqual(0.5);
    });
  });

  it('may hold nothing', () => {
    expect(wavBytes(audio([], []))).toHaveLength(44);
  });

  it.each([1.0000001, -1.1, Number.NaN, Infinity])('refuses a sample of %d', (sample) => {
    expect(() => wavBytes(audio([0, sample], [0, 0]))).toThrow(RangeError);
  });
});
