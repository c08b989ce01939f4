import { type LearnOptions, learnGrid } from '../../learning/learn-grid.js';
import type { Learned, NextReading } from '../../learning/learned.js';
import { parseReadings } from '../../learning/parse-readings.js';
import type { KnobReadings, Reading } from '../../learning/reading.js';
import { displayValue } from '../../model/display.js';
import type { Knob } from '../../model/knob.js';
import { formatFrequency } from '../../units/format.js';
import { hz } from '../../units/quantity.js';
import { ok, type Result } from '../../units/result.js';

/** What was read off a knob, and what that tells. */
export interface ReadOff {
  readonly readings: KnobReadings;
  readonly learned: Learned;
}

/** What readings as they were typed tell of a knob's grid. */
export const readOff = (
  text: string,
  knob: Knob,
  options: LearnOptions = {},
  digits?: number,
): Result<ReadOff, string> => {
  const readings = text === '' ? ok({ knob, readings: [] }) : parseReadings(text, knob, digits);
  return readings.ok
    ? ok({ readings: readings.value, learned: learnGrid(readings.value, options) })
    : readings;
};

const turned = (clicksUp: number): string => {
  const clicks = Math.abs(clicksUp);
  return `${clicks} ${clicks === 1 ? 'click' : 'clicks'} ${clicksUp < 0 ? 'down' : 'up'}`;
};

/** A value as a screen may show it. */
export const sampleShown: Readonly<Record<Knob, string>> = {
  frequency: '19.4k',
  q: '4.00',
  bandwidth: '0.50 oct',
  gain: '-14.5',
  slope: '12',
};

const knobWords: Readonly<Record<Knob, string>> = {
  frequency: 'frequency',
  q: 'Q',
  bandwidth: 'bandwidth',
  gain: 'gain',
  slope: 'slope',
};

/** What to do next to a knob, for whoever stands before it. */
export const nextWords = ({ do: next }: NextReading, knob: Knob): string => {
  switch (next.kind) {
    case 'stop':
      return `Turn the ${knobWords[knob]} to its ${next.end} stop: what does it show there?`;
    case 'near': {
      const then = next.thenClicksUp === null ? '' : `, and ${turned(next.thenClicksUp)} from there`;
      return `Turn the ${knobWords[knob]} to about ${knob === 'frequency' ? formatFrequency(hz(next.value)) : displayValue(knob, next.value, {})}: what does it show${then}?`;
    }
    case 'clicks': {
      const { stop, text } = next.from;
      return `From ${text}${stop ? `, its ${stop} stop,` : ''} turn the ${knobWords[knob]} ${turned(next.clicksUp)}: what does it show?`;
    }
    case 'again':
      return `${next.reading.text} fits nothing. Turn the ${knobWords[knob]} ${next.reading.stop === null ? 'there' : `to its ${next.reading.stop} stop`} again: what does it show?`;
  }
};

const marked = ({ text, stop, isSure }: Reading): string =>
  `${text}${isSure ? '!' : ''}${stop ? ` ${stop}` : ''}`;

/** Readings as they would be typed. */
const typedAgain = (readings: readonly Reading[]): string =>
  readings
    .map((reading, at) => {
      const { clicksUp, isClickAssumed } = reading;
      const way = at === 0 || isClickAssumed ? '' : clicksUp === null ? '.. ' : `${turned(clicksUp)} `;
      return `${way}${marked(reading)}`;
    })
    .join(' ');

/** The same reading, though it may have been copied on the way. */
const isSame = (one: Reading, other: Reading | undefined): boolean =>
  other !== undefined && one.text === other.text && one.stop === other.stop && one.isSure === other.isSure;

const hasWords = (text: string): boolean => /stop|end|top|bottom|click|up|down|\.\./i.test(text);

/**
 * Readings with more of them, as they would be typed at once. What is typed alone is what was asked for; with words of its
 * own it goes on from the last reading, as it says.
 */
export const withMore = (before: string, { readings, learned }: ReadOff, typed: string): string => {
  const next = learned.next?.do;
  const last = readings.readings.at(-1);
  if (!next || !last)
    return next?.kind === 'stop' && !hasWords(typed) ? `${typed} ${next.end}` : `${before} ${typed}`.trim();
  switch (next.kind) {
    case 'stop':
      return `${before} .. ${typed}${hasWords(typed) ? '' : ` ${next.end}`}`;
    case 'near': {
      const [first, second, ...more] = typed.split(/\s*[,;]\s*|\s+(?=[+\-\u2212.\d])/);
      const isPair = next.thenClicksUp !== null && second !== undefined && more.length === 0;
      return isPair && !hasWords(typed)
        ? `${before} .. ${first} ${turned(next.thenClicksUp ?? 0)} ${second}`
        : `${before} .. ${typed}`;
    }
    case 'clicks': {
      const from = isSame(next.from, last) ? '' : `.. ${marked(next.from)} `;
      if (/click/i.test(typed)) return `${before} ${from}${typed}`;
      // It came to a stop: whether all clicks were turned is not said.
      return hasWords(typed) ? `${before} .. ${typed}` : `${before} ${from}${turned(next.clicksUp)} ${typed}`;
    }
    case 'again': {
      const anew = readings.readings.map((reading) =>
        isSame(reading, next.reading) ? { ...reading, text: typed, isSure: true } : reading,
      );
      return typedAgain(anew);
    }
  }
};
