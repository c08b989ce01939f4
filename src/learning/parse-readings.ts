import { type Knob, knobs } from '../model/knob.js';
import { itemAt } from '../units/at.js';
import { parseBandwidth, parseFrequency, parseGain, parseQ, parseSlope } from '../units/parse.js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { displayedIntervals, lastDigitUnit } from './displayed.js';
import type { End, KnobReadings, Reading } from './reading.js';

const parsers = {
  frequency: parseFrequency,
  q: parseQ,
  bandwidth: parseBandwidth,
  gain: parseGain,
  slope: parseSlope,
} as const;

/** How one reading came after another: so many clicks, with the way they were turned where it was said. */
interface Turned {
  readonly clicks: number | null;
  readonly way: 'up' | 'down' | null;
}

/** What was typed of one reading before it is known where the others lie. */
interface Typed extends Pick<Reading, 'text' | 'isSure'> {
  readonly value: number;
  /** What its last digit is worth as typed; null for a fraction. */
  readonly unit: number | null;
  readonly turned: Turned;
  stop: End | 'one of them' | null;
}

const unit = /^(k?hz|k|db|db\/oct(ave)?|oct(aves?)?)$/i;
const number = /^q?[+\-\u2212]?\d*[.\d]/i;
const wordOfValue = (word: string): boolean => number.test(word);

/**
 * The parts of typed readings, each with its unit and its mark: `19.32 kHz`, `40 clicks down`, `stop`, `..`.
 * Between readings stand spaces, commas or semicolons.
 */
const parts = (text: string): readonly string[] => {
  const found: string[] = [];
  for (const word of text.split(/[\s,;]+/).filter((each) => each !== '')) {
    const before = found.at(-1);
    const joins =
      before !== undefined &&
      ((unit.test(word.replace(/!$/, '')) && wordOfValue(before)) ||
        (/^(clicks?|up|down)$/i.test(word) && /^\d+\s*(clicks?)?$/i.test(before)) ||
        word === '!' ||
        /^q$/i.test(before));
    if (joins) found[found.length - 1] = `${before}${word === '!' ? '' : ' '}${word}`;
    else found.push(word);
  }
  return found;
};

const clicksTurned = /^(\d{1,6})\s*(?:clicks?)?\s*(up|down)?$/i;
const gapTyped = /^(\.{2,}|…)$/;
const stops: Readonly<Record<string, Typed['stop']>> = {
  stop: 'one of them',
  end: 'one of them',
  top: 'top',
  bottom: 'bottom',
};
const allowed =
  'readings are values as the screen shows them, one click apart, as in "18.67k 19.32k 20.00k stop"; where they are not, say how many clicks lie between, as in "20.00k 40 clicks down 5.06k", or ".." where nobody counted; "stop", "bottom" or "top" comes after the value at a stop, "!" after one that was read twice';

const oneClick: Turned = { clicks: 1, way: null };

/** Clicks only where a word says so: a plain number is a reading. */
const turnedBy = (part: string): Turned | null => {
  if (gapTyped.test(part)) return { clicks: null, way: null };
  const [whole, clicks, way] = clicksTurned.exec(part) ?? [];
  if (whole === undefined || !/[a-z]/i.test(whole)) return null;
  return { clicks: Number(clicks), way: (way?.toLowerCase() as Turned['way'] | undefined) ?? null };
};

const typedReading = (part: string, knob: Knob, turned: Turned): Result<Typed, string> => {
  const text = part.replace(/\s*!$/, '');
  const value = parsers[knob](text);
  if (!value.ok) return value;
  return ok({
    text,
    value: value.value,
    unit: lastDigitUnit(text),
    turned,
    stop: null,
    isSure: text !== part,
  });
};

/** Every value, with what stands round it. */
const readAll = (text: string, knob: Knob): Result<readonly Typed[], string> => {
  const readings: Typed[] = [];
  let turned: Turned | null = null;
  let stop: Typed['stop'] = null;
  for (const part of parts(text)) {
    const mark = stops[part.toLowerCase()];
    const last = readings.at(-1);
    const turns = turnedBy(part);
    if (mark !== undefined) {
      if (last && turned === null) last.stop = mark;
      else stop = mark;
    } else if (turns !== null) {
      if (!last) return fail(`${quote(part)} comes before the first value; ${allowed}.`);
      if (turned !== null)
        return fail(`${quote(part)} says a second time how far it was turned; ${allowed}.`);
      turned = turns;
    } else {
      const read = typedReading(part, knob, turned ?? oneClick);
      if (!read.ok) return fail(`${read.error.replace(/\.$/, '')}. What is read here: ${allowed}.`);
      readings.push({ ...read.value, stop });
      [turned, stop] = [null, null];
    }
  }
  if (turned !== null)
    return fail(
      `after the last value stands how far it was turned, but not what was read there; ${allowed}.`,
    );
  return readings.length === 0 ? fail(`there is no value; ${allowed}.`) : ok(readings);
};

/** Which way it was turned to come to a reading: as was said, or as the values tell, or on as before. */
const wayTo = (readings: readonly Typed[], at: number): 1 | -1 => {
  const { turned } = itemAt(readings, at);
  if (turned.way !== null) return turned.way === 'up' ? 1 : -1;
  for (let index = at; index > 0; index--) {
    const [before, after] = [itemAt(readings, index - 1).value, itemAt(readings, index).value];
    if (before !== after) return after > before ? 1 : -1;
  }
  const next = readings.slice(at + 1).find(({ value }) => value !== itemAt(readings, at).value);
  return next && next.value < itemAt(readings, at).value ? -1 : 1;
};

/** Where the middle of a knob's travel lies when nothing else tells. */
const usualMiddle: Readonly<Record<Knob, number>> = {
  frequency: 1000,
  q: 2,
  bandwidth: 1,
  gain: 0,
  slope: 12,
};

const middleOf = (readings: readonly Typed[], knob: Knob): number => {
  const values = readings.map(({ value }) => value);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  return least === most ? usualMiddle[knob] : (least + most) / 2;
};

/** A jump so many times as far as those beside it, and more than an octave or its like, is no single click. */
const [farther, atLeast] = [8, 0.7];

/** How far it is from one reading to the next: by ratio where that means something. */
const jumpTo = (readings: readonly Typed[], at: number): number => {
  const [before, after] = [itemAt(readings, at - 1).value, itemAt(readings, at).value];
  return before > 0 && after > 0 ? Math.abs(Math.log(after / before)) : Math.abs(after - before);
};

/** Whether the least of the other clicks that were taken for granted goes much less far. */
const isFarJump = (readings: readonly Typed[], at: number): boolean => {
  const others = readings.flatMap(({ turned, value }, index) =>
    index > 0 && index !== at && turned === oneClick && value !== itemAt(readings, index - 1).value
      ? [jumpTo(readings, index)]
      : [],
  );
  const jump = jumpTo(readings, at);
  return others.length > 0 && jump > atLeast && jump > farther * Math.min(...others);
};

/**
 * One click is taken for granted where nothing else is said; not from one stop to the other, unless it is a slope, which
 * often has two values and no more, nor for a jump far beyond the others.
 */
const clicksUpTo = (readings: readonly Typed[], at: number, knob: Knob): number | null => {
  const [before, reading] = [readings[at - 1], itemAt(readings, at)];
  if (!before || reading.turned.clicks === null) return null;
  if (reading.turned === oneClick) {
    if (before.stop !== null && reading.stop !== null && knob !== 'slope') return null;
    if (isFarJump(readings, at)) return null;
  }
  return wayTo(readings, at) * reading.turned.clicks;
};

const decadeOf = (value: number): number => Math.floor(Math.log10(Math.abs(value)) + 1e-12);

/**
 * Zeros at the end that nobody typed: a screen shows values of one size with the same digits after the point, and gains and
 * slopes throughout. With `digits`, all values have so many.
 */
const unitShown = (
  { value, unit }: Typed,
  all: readonly Typed[],
  knob: Knob,
  digits: number | undefined,
): number | null => {
  if (unit === null) return null;
  const alike = all.filter(
    (each) => knobs[knob].measure === 'difference' || decadeOf(each.value) === decadeOf(value),
  );
  const units = [unit, ...alike.flatMap((each) => each.unit ?? [])];
  if (digits !== undefined && value !== 0) units.push(Number(`1e${decadeOf(value) + 1 - digits}`));
  return Math.min(...units);
};

/** Text with the zeros that its last digit calls for: `20.00k` for `20k`. */
const withZeros = (text: string, typedUnit: number | null, unit: number | null): string => {
  if (typedUnit === null || unit === null || unit >= typedUnit) return text;
  const zeros = '0'.repeat(Math.round(Math.log10(typedUnit / unit)));
  return text.replace(/^([^\d.]*\d*)(\.\d*)?/, (_, whole: string, rest = '.') => `${whole}${rest}${zeros}`);
};

/**
 * Reads what was read off a knob: values as the screen shows them, next to each other one click apart. Between two of
 * them may stand how many clicks lie between (`40 clicks`, `40 down`) or `..` where nobody counted; after one `stop`,
 * `bottom` or `top` where the knob came to a stop, and `!` where it was read twice. Zeros that end a number on the screen
 * need not be typed where another value of its size has as many digits, or where `digits` says how many the screen shows;
 * the text of such a reading has them. Errors: one sentence for whoever typed it.
 */
export const parseReadings = (text: string, knob: Knob, digits?: number): Result<KnobReadings, string> => {
  const typed = readAll(text, knob);
  if (!typed.ok) return typed;
  const middle = middleOf(typed.value, knob);
  const readings = typed.value.map((each, at): Reading => {
    const { value, stop, turned, isSure } = each;
    const end: End = value >= middle ? 'top' : 'bottom';
    const unit = unitShown(each, typed.value, knob, digits);
    return {
      text: withZeros(each.text, each.unit, unit),
      ...displayedIntervals(value, unit),
      stop: stop === 'one of them' ? end : stop,
      clicksUp: clicksUpTo(typed.value, at, knob),
      isClickAssumed: turned === oneClick,
      isWayAssumed: turned.way === null,
      isSure,
    };
  });
  return ok({ knob, readings });
};
