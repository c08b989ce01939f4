import { OfflineAudioContext } from 'node-web-audio-api';
import type { FilterJson } from './shapes.js';

const magnitudes = (
  { type, set }: FilterJson,
  rateHz: number,
  at: Float32Array<ArrayBuffer>,
): Float32Array => {
  const node = new OfflineAudioContext(1, 1, rateHz).createBiquadFilter();
  node.type = type as BiquadFilterType;
  node.frequency.value = set.frequencyHz;
  node.gain.value = Number(set.gainDb ?? 0);
  // 12 dB per octave is one section of Q 1/√2, which the Web Audio API takes in dB for cuts.
  node.Q.value = type === 'peaking' ? Number(set.q) : 20 * Math.log10(Math.SQRT1_2);
  const found = new Float32Array(at.length);
  node.getFrequencyResponse(at, found, new Float32Array(at.length));
  return found;
};

/** The level in dB after bells and cuts of 12 dB per octave, by getFrequencyResponse of node-web-audio-api. */
export const levelsDb = (
  filters: readonly FilterJson[],
  rateHz: number,
  frequenciesHz: readonly number[],
): readonly number[] => {
  const at = Float32Array.from(frequenciesHz);
  const responses = filters.map((placed) => magnitudes(placed, rateHz, at));
  return frequenciesHz.map((_, i) =>
    responses.reduce((sum, response) => sum + 20 * Math.log10(response[i] ?? Number.NaN), 0),
  );
};
