import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import { builtInProgramme } from '../../src/simulator/built-in-programme.js';
import { beforeAfter, listen } from '../../src/simulator/listen.js';
import { highestSample } from '../../src/simulator/stereo.js';
import { db, dbPerOctave, hz, q } from '../../src/units/quantity.js';
import { rateHz } from './signals.js';

const link = { pilotHz: hz(19000), preEmphasisMicroseconds: 50, lineUpDbfs: db(0) };
const chain = buildChain(
  [
    { type: 'lowpass', frequencyHz: hz(15000), slopeDbPerOctave: dbPerOctave(12) },
    { type: 'notch', frequencyHz: hz(19000), q: q(3) },
    // A boost, so that the second part has to be turned down.
    { type: 'peaking', frequencyHz: hz(330), q: q(1), gainDb: db(30) },
  ],
  { id: '48k', design: 'cookbook', qMeaning: 'cookbook', sampleRateHz: rateHz },
);
const programme = builtInProgramme(0.5, rateHz, 1, link.pilotHz);
const heard = beforeAfter(programme, chain, 0.25, link);
const [without, filtered] = [listen(programme, null, link), listen(programme, chain, link)];

describe('a programme before and after filters', () => {
  it('sounds without them, then not at all, then with them', () => {
    const { without: first, with: second, audio } = heard;
    expect([first.fromSeconds, first.toSeconds, second.fromSeconds, second.toSeconds]).toEqual([
      0, 0.5, 0.75, 1.25,
    ]);
    expect(audio.sampleRateHz).toBe(48000);
    expect([audio.left.length, audio.right.length]).toEqual([60000, 60000]);
    const silence = audio.left.subarray(24000, 36000);
    expect(highestSample(silence, audio.right.subarray(24000, 36000))).toBe(0);
  });

  it('is turned down alike in both parts, as much as the louder one needs', () => {
    expect(without.gainDb).toBe(0);
    expect(filtered.gainDb).toBeLessThan(-1);
    expect(heard.gainDb).toBe(filtered.gainDb);
    const gain = 10 ** (filtered.gainDb / 20);
    for (const n of [1000, 12000, 23999]) {
      expect(heard.audio.left[n]).toBeCloseTo(gain * (without.audio.left[n] ?? Number.NaN), 12);
      expect(heard.audio.right[36000 + n]).toBeCloseTo(filtered.audio.right[n] ?? Number.NaN, 12);
    }
    expect(highestSample(heard.audio.left, heard.audio.right)).toBeLessThanOrEqual(1);
  });

  it('tells for each part what became of pilot, stereo and deviation', () => {
    for (const [part, alone] of [
      [heard.without, without],
      [heard.with, filtered],
    ] as const) {
      const { lock, stereo, peakDeviation } = alone;
      expect(part).toMatchObject({ lock, stereo, peakDeviation });
    }
  });
});
