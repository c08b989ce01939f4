import { columnLines } from '../../exporters/layout/columns.js';
import { typeWords } from '../../model/words.js';
import type { HeardPart } from '../../multiplex/simulator/before-after.js';
import { formatFrequency, formatGain } from '../../units/format.js';
import { wrap } from '../wrap.js';
import type { HeardOnDesk } from './hear-on-desk.js';
import { shownBand } from './tradeoff-table.js';

const columns = 80;

const told = (what: string, text: string): readonly string[] => columnLines([what, text], [7, columns - 9]);

const turn = 2 * Math.PI;
const degrees = (radians: number): string => `${Math.round((360 * radians) / turn)} degrees`;
const times = (count: number): string => (count === 1 ? 'once' : `${count} times`);

/** Whether the receiver held the pilot, and how it came off it. */
const lockText = ({ lock, fromSeconds, toSeconds }: HeardPart): string => {
  const when = `${fromSeconds.toFixed(1)} to ${toSeconds.toFixed(1)} s: `;
  return lock.kept
    ? `${when}lock kept, at most ${degrees(lock.peakRadians)} off the pilot, ${degrees(lock.rmsRadians)} RMS`
    : `${when}lock LOST: ${[
        `up to ${degrees(lock.peakRadians)} off the pilot`,
        ...(lock.cycleSlips > 0 ? [`slipped ${times(lock.cycleSlips)}`] : []),
        `lock indicator on for ${(100 * lock.lockedShare).toFixed(1)} % of the time`,
      ].join(', ')}`;
};

/** The hazard, to be read before anybody listens. */
export const hearCaution = wrap(
  "Caution: it holds harsh treble and noise on purpose. Start with the level all the way down, on loudspeakers or your own headphones, never in a performer's ears. This is not hearing protection.",
  columns,
);

/** What was rendered and what was taken for it, for people. */
export const hearLines = (heard: HeardOnDesk): readonly string[] => {
  const { audio, realisation, pilotAttenuationDb, bands, link, gainDb } = heard;
  return [
    ...told(
      'sound',
      `${heard.with.toSeconds.toFixed(1)} s, stereo, ${formatFrequency(audio.sampleRateHz)}, 24 bit: without the filters, silence, with them`,
    ),
    ...told('filters', bands.map((band) => `${typeWords[band.type]} ${shownBand(band)}`).join('; ')),
    ...told('built', `as ${realisation.id}, ${pilotAttenuationDb.toFixed(1)} dB down at the pilot`),
    ...told(
      'link',
      `a model, without limiter, noise or radio path: line-up ${link.lineUpDbfs} dBFS, pre-emphasis ${link.preEmphasisMicroseconds} microseconds, pilot ${formatFrequency(link.pilotHz)}, loop noise bandwidth ${formatFrequency(link.loopNoiseBandwidthHz)}`,
    ),
    ...told('gain', gainDb === 0 ? 'none' : `${formatGain(gainDb)} on both parts, to stay within full scale`),
    ...told('without', lockText(heard.without)),
    ...told('with', lockText(heard.with)),
  ];
};
