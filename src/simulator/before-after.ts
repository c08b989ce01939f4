import type { Section } from '../filters/section.js';
import { type Db, db } from '../units/quantity.js';
import { type Heard, type ListenOptions, listen } from './listen.js';
import type { Stereo } from './stereo.js';

/** One half of what is heard: when it sounds, and what became of pilot, stereo and deviation. */
export interface HeardPart extends Pick<Heard, 'lock' | 'stereo' | 'peakDeviation'> {
  readonly fromSeconds: number;
  readonly toSeconds: number;
}

export interface BeforeAfter {
  readonly audio: Stereo;
  /** How much both parts were turned down, alike, so that neither goes beyond full scale. */
  readonly gainDb: Db;
  readonly without: HeardPart;
  readonly with: HeardPart;
}

const joined = (channels: readonly Float64Array[]): Float64Array => {
  const all = new Float64Array(channels.reduce((length, channel) => length + channel.length, 0));
  let at = 0;
  for (const channel of channels) {
    all.set(channel, at);
    at += channel.length;
  }
  return all;
};

const figuresOf = ({ lock, stereo, peakDeviation }: Heard) => ({ lock, stereo, peakDeviation });

/** A programme as a listener gets it without desk filters and, after a pause, with them. Throws as `listen` does. */
export const beforeAfter = (
  programme: Stereo,
  chain: readonly Section[],
  pauseSeconds: number,
  options: ListenOptions,
): BeforeAfter => {
  const before = listen(programme, null, options);
  const after = listen(programme, chain, options);
  const { sampleRateHz } = before.audio;
  const gainDb = Math.min(before.gainDb, after.gainDb);
  const pause = new Float64Array(Math.round(pauseSeconds * sampleRateHz));
  const channel = (side: 'left' | 'right'): Float64Array => {
    const turned = [before, after].map(({ audio, gainDb: own }) => {
      const gain = 10 ** ((gainDb - own) / 20);
      return audio[side].map((sample) => gain * sample);
    });
    return joined([turned[0] as Float64Array, pause, turned[1] as Float64Array]);
  };
  const left = channel('left');
  const first = before.audio.left.length;
  return {
    audio: { sampleRateHz, left, right: channel('right') },
    gainDb: db(gainDb),
    without: { fromSeconds: 0, toSeconds: first / sampleRateHz, ...figuresOf(before) },
    with: {
      fromSeconds: (first + pause.length) / sampleRateHz,
      toSeconds: left.length / sampleRateHz,
      ...figuresOf(after),
    },
  };
};
