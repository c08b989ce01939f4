import type { Knob } from '../../model/knob.js';
import type { KnobPosition, PlacedFilter } from '../../model/recipe.js';
import { formatFrequency, formatGain, formatOctaves, formatQ } from '../../units/format.js';
import { clicksText, isNothing, ratioText } from '../words/settings.js';

/** How to find a position by counting from the nearer stop. */
export const clickWords = (position: KnobPosition): string => {
  const told = clicksText(position);
  const [count, way] = told.split(' ');
  return way === 'up' || way === 'down' ? `${count} ${count === '1' ? 'click' : 'clicks'} ${way}` : told;
};

const asAsked = 'as asked';

const hertz = (offHz: number): string => `${Number(Math.abs(offHz).toPrecision(3))} Hz`;

const frequencyWords = ({ asked, error, role }: PlacedFilter, pilotHz: number | null): string => {
  const { frequencyHz: off, frequencyCents } = error;
  const isPilots = role.startsWith('pilot-cut') && asked.frequencyHz === pilotHz;
  if (isNothing(off, asked.frequencyHz)) return isPilots ? 'on the pilot' : asAsked;
  const cents = Math.abs(frequencyCents) < 0.05 ? 'under 0.1' : Math.abs(frequencyCents).toFixed(1);
  const way = off > 0 ? 'above' : 'below';
  return isPilots
    ? `${cents} cents, ${hertz(off)} ${way} the pilot`
    : `${cents} cents ${way} the ${formatFrequency(asked.frequencyHz)} asked`;
};

const widthWords = ({ asked, error: { qRatio } }: PlacedFilter): string => {
  if (qRatio === undefined) return '';
  if (isNothing(qRatio - 1, 1)) return asAsked;
  const wanted = [
    ...(asked.q === undefined ? [] : [`Q ${formatQ(asked.q)}`]),
    ...(asked.bandwidthOctaves === undefined ? [] : [formatOctaves(asked.bandwidthOctaves)]),
  ];
  const than = wanted.length === 0 ? 'asked' : `the ${wanted.join()} asked`;
  return `${qRatio > 1 ? 'narrower' : 'wider'} than ${than}, ${ratioText(qRatio)}`;
};

const slopeWords = ({ asked, error: { slopeDbPerOctave: off } }: PlacedFilter): string => {
  if (off === undefined) return '';
  if (isNothing(off, 1)) return asAsked;
  const from = asked.slopeDbPerOctave === undefined ? '' : ` the ${asked.slopeDbPerOctave} dB/oct`;
  return `${off > 0 ? 'steeper' : 'gentler'} than${from} asked`;
};

const gainWords = ({ asked, error: { gainDb: off } }: PlacedFilter): string => {
  if (off === undefined || asked.gainDb === undefined) return '';
  if (isNothing(off, 1)) return asAsked;
  const far = `${Number(Math.abs(off).toPrecision(3))} dB`;
  const way = asked.gainDb < 0 ? (off > 0 ? 'shallower' : 'deeper') : off > 0 ? 'higher' : 'lower';
  return `${far} ${way} than the ${formatGain(asked.gainDb)} asked`;
};

/** How far a knob stands from what was asked, in words; empty where nothing was asked of it. */
export const errorWords = (knob: Knob, placed: PlacedFilter, pilotHz: number | null): string => {
  if (knob === 'frequency') return frequencyWords(placed, pilotHz);
  if (knob === 'gain') return gainWords(placed);
  return knob === 'slope' ? slopeWords(placed) : widthWords(placed);
};

/** What a knob is called on a sheet. */
export const knobWords: Readonly<Record<Knob, string>> = {
  frequency: 'frequency',
  q: 'Q',
  bandwidth: 'bandwidth',
  slope: 'slope',
  gain: 'gain',
};
