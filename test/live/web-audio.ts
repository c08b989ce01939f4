import { OfflineAudioContext } from 'node-web-audio-api';

/** A filter in the terms of the W3C Web Audio API; cuts are Butterworth, shelves of slope 1. */
export interface WebAudioFilter {
  readonly type: 'peaking' | 'notch' | 'lowshelf' | 'highshelf' | 'lowpass' | 'highpass';
  readonly frequencyHz: number;
  readonly q?: number;
  readonly gainDb?: number;
}

/** In that API the Q of a cut is in dB; a Butterworth section of order 2 has 1 / sqrt(2). */
const butterworthDb = -10 * Math.log10(2);

/**
 * The gain of filters one after another at some frequencies, by `getFrequencyResponse` of node-web-audio-api 1.0.9, an
 * independent implementation of the W3C Web Audio API, at 48 kHz.
 */
export const webAudioDb = (filters: readonly WebAudioFilter[], at: readonly number[]): readonly number[] => {
  const context = new OfflineAudioContext(1, 1, 48000);
  const each = filters.map(({ type, frequencyHz, q, gainDb }) => {
    const node = context.createBiquadFilter();
    node.type = type;
    node.frequency.value = frequencyHz;
    node.Q.value = type === 'lowpass' || type === 'highpass' ? butterworthDb : (q ?? 1);
    node.gain.value = gainDb ?? 0;
    const magnitude = new Float32Array(at.length);
    node.getFrequencyResponse(Float32Array.from(at), magnitude, new Float32Array(at.length));
    return magnitude;
  });
  return at.map((_, index) =>
    each.reduce((sum, magnitude) => sum + 20 * Math.log10(magnitude[index] ?? Number.NaN), 0),
  );
};

/** The least that is taken over the usual window, 19 kHz and 100 Hz to either side in nine points. */
export const takenAtPilotDb = (...filters: readonly WebAudioFilter[]): number =>
  -Math.max(
    ...webAudioDb(
      filters,
      Array.from({ length: 9 }, (_, i) => 18900 + 25 * i),
    ),
  );
