import type { Stereo } from '../simulator/stereo.js';

const channels = 2;
const bytesPerSample = 3;
const bytesPerFrame = channels * bytesPerSample;
const headerBytes = 44;
const formatChunkBytes = 16;
const pulseCodeModulation = 1;
const fullScale = 2 ** 23 - 1;

/**
 * Stereo audio as the bytes of a WAV file: RIFF/WAVE with a `fmt ` and a `data` chunk, linear PCM of 24 bits, left
 * before right, everything little-endian (IBM and Microsoft, Multimedia Programming Interface and Data
 * Specifications 1.0, 1991, "Waveform Audio File Format"). A sample of 1 becomes the highest number, −1 the
 * lowest but one. No chunk needs a pad byte, for six bytes a frame are an even number.
 *
 * Throws RangeError for a sample that is not within −1 to 1: nothing is clipped in silence.
 */
export const wavBytes = ({ left, right, sampleRateHz }: Stereo): Uint8Array => {
  const dataBytes = left.length * bytesPerFrame;
  const bytes = new Uint8Array(headerBytes + dataBytes);
  const view = new DataView(bytes.buffer);
  const name = (at: number, text: string): void => {
    for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i));
  };
  name(0, 'RIFF');
  view.setUint32(4, bytes.length - 8, true);
  name(8, 'WAVE');
  name(12, 'fmt ');
  view.setUint32(16, formatChunkBytes, true);
  view.setUint16(20, pulseCodeModulation, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, sampleRateHz, true);
  view.setUint32(28, sampleRateHz * bytesPerFrame, true);
  view.setUint16(32, bytesPerFrame, true);
  view.setUint16(34, 8 * bytesPerSample, true);
  name(36, 'data');
  view.setUint32(40, dataBytes, true);

  const put = (at: number, sample: number): void => {
    if (!(Math.abs(sample) <= 1)) throw new RangeError(`a sample of ${sample} is beyond full scale`);
    const value = Math.round(fullScale * sample);
    view.setUint16(at, value & 0xffff, true);
    view.setInt8(at + 2, value >> 16);
  };
  for (let n = 0; n < left.length; n++) {
    const at = headerBytes + n * bytesPerFrame;
    put(at, left[n] as number);
    put(at + bytesPerSample, right[n] as number);
  }
  return bytes;
};
