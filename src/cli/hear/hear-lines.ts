import type { HeardOnDesk } from '../../analysis/hear.js';
import { phaseErrorAtRadians } from '../../guard/separation.js';
import { columnLines } from '../../layout/columns.js';
import { wrap } from '../../layout/hang.js';
import { typeWords } from '../../model/words.js';
import type { HeardPart } from '../../simulator/listen.js';
import { foldedBelowDb, wholeFromDb } from '../../simulator/measure.js';
import { formatFrequency, formatGain } from '../../units/format.js';
import { shownFilter } from '../tradeoff/tradeoff-table.js';

const columns = 80;

const told = (what: string, text: string): readonly string[] => columnLines([what, text], [7, columns - 9]);

const perCent = (share: number): string => `${(100 * share).toFixed(1)} %`;
const degrees = (radians: number): number => Math.round((180 / Math.PI) * radians);

/** What becomes of left and right, and whether the receiver still says that it hears a pilot. */
const stereoText = ({ stereo, lock, fromSeconds, toSeconds }: HeardPart): string => {
  const { swappedShare, foldedShare, narrowedShare } = stereo;
  const told = [
    ...(swappedShare > 0 ? [`left and right SWAPPED ${perCent(swappedShare)} of the time`] : []),
    ...(foldedShare > 0 ? [`FOLDED to mono ${perCent(foldedShare)}`] : []),
    ...(narrowedShare > 0 ? [`narrowed ${perCent(narrowedShare)}`] : []),
  ];
  const wholeShare = 1 - swappedShare - foldedShare - narrowedShare;
  return [
    `${fromSeconds.toFixed(1)} to ${toSeconds.toFixed(1)} s: `,
    told.length === 0 ? 'stereo whole all the time' : `${told.join(', ')}, whole ${perCent(wholeShare)}`,
    lock.lockedShare < 1 ? `; no pilot heard ${perCent(1 - lock.lockedShare)}` : '',
  ].join('');
};

/** What is meant by swapped, folded and narrowed: separation, and the pilot's phase error that makes it so little. */
const meaning = [
  'swapped: the pilot is more than 45 degrees off, so its second harmonic, which brings left and right apart, more than 90',
  `folded: separation below ${foldedBelowDb} dB, ${degrees(phaseErrorAtRadians(foldedBelowDb))} degrees, or a receiver gone mono`,
  `narrowed: below ${wholeFromDb} dB, ${degrees(phaseErrorAtRadians(wholeFromDb))} degrees`,
].join('; ');

/** The hazard, to be read before anybody listens. */
export const hearCaution = wrap(
  "Caution: it holds harsh treble and noise on purpose. Start with the level all the way down, on loudspeakers or your own headphones, never in a performer's ears. This is not hearing protection.",
  columns,
);

/** What was rendered and what was taken for it, for people. */
export const hearLines = (heard: HeardOnDesk): readonly string[] => {
  const { audio, realisation, pilotAttenuationDb, filters, levelDbfs, link, gainDb } = heard;
  const deviation = ({ peakDeviation }: HeardPart): string => `${Math.round(100 * peakDeviation)} %`;
  return [
    ...told(
      'sound',
      `${heard.with.toSeconds.toFixed(1)} s, stereo, ${formatFrequency(audio.sampleRateHz)}, 24 bit: without the filters, silence, with them; made up, bright on purpose, and ringing just below the pilot`,
    ),
    ...told(
      'filters',
      filters.map((placed) => `${typeWords[placed.type]} ${shownFilter(placed)}`).join('; '),
    ),
    ...told('built', `as ${realisation.id}, ${pilotAttenuationDb.toFixed(1)} dB down at the pilot`),
    ...told(
      'link',
      `a model, without limiter, noise or radio path: line-up ${link.lineUpDbfs} dBFS, pre-emphasis ${link.preEmphasisMicroseconds} microseconds, pilot ${formatFrequency(link.pilotHz)}, loop noise bandwidth ${formatFrequency(link.loopNoiseBandwidthHz)}`,
    ),
    ...told(
      'level',
      `${levelDbfs} dBFS RMS before the filters, in both parts; with the pilot it takes up to ${deviation(heard.without)} of deviation without them, ${deviation(heard.with)} with them; the link has 100 %`,
    ),
    ...told('gain', gainDb === 0 ? 'none' : `${formatGain(gainDb)} on both parts, to stay within full scale`),
    ...told('without', stereoText(heard.without)),
    ...told('with', stereoText(heard.with)),
    ...told('means', meaning),
  ];
};
