import type { Filter, FilterType } from '../filters/filter.js';
import { formatFrequency, formatGain, formatOctaves, formatQ } from '../units/format.js';

/** What people call each filter type. */
export const typeWords: Readonly<Record<FilterType, string>> = {
  lowpass: 'high cut',
  highpass: 'low cut',
  bandpass: 'band-pass',
  notch: 'notch',
  allpass: 'all-pass',
  peaking: 'bell',
  lowshelf: 'low shelf',
  highshelf: 'high shelf',
};

/** A filter in one phrase: `bell at 19 kHz, Q 10, -15 dB`. */
export const filterPhrase = (filter: Filter): string =>
  [
    `${typeWords[filter.type]} at ${formatFrequency(filter.frequencyHz)}`,
    ...(filter.q !== undefined ? [`Q ${formatQ(filter.q)}`] : []),
    ...(filter.bandwidthOctaves !== undefined ? [formatOctaves(filter.bandwidthOctaves)] : []),
    ...(filter.shelfSlope !== undefined ? [`shelf slope ${filter.shelfSlope}`] : []),
    ...(filter.slopeDbPerOctave !== undefined ? [`${filter.slopeDbPerOctave} dB/oct`] : []),
    ...(filter.family === 'linkwitz-riley' ? ['Linkwitz-Riley'] : []),
    ...(filter.gainDb !== undefined ? [formatGain(filter.gainDb)] : []),
  ].join(', ');
