import { tableLines } from '../../layout/columns.js';
import { hang, wrap } from '../../layout/wrap.js';
import type { Candidate, Learned, Neighbours } from '../../learning/learned.js';
import type { Interval, Reading } from '../../learning/reading.js';
import { displayValue } from '../../model/display.js';
import type { Knob } from '../../model/knob.js';
import type { NumberDisplay } from '../../model/target.js';
import type { Quantiser, QuantiserSpec } from '../../quantisers/quantiser.js';
import { makeQuantiser } from '../../quantisers/registry.js';
import { step } from '../../units/quantity.js';
import { printable } from '../../units/quote.js';
import { commandLine } from '../words/copyable.js';
import { nextWords, type ReadOff, withMore } from '../words/readings.js';
import { displayFor, displayOf } from '../words/typed-display.js';

/** The command that goes on from what was typed. */
export const soFarCommand = (knob: Knob, typed: string): string =>
  commandLine('bandwright', 'learn', knob, '--readings', typed);

const turned = ({ clicksUp, isClickAssumed }: Reading, isApart: boolean): string => {
  if (isApart || (clicksUp === null && isClickAssumed)) return 'taken NOT to be one click';
  if (clicksUp === null) return 'not counted';
  const clicks = Math.abs(clicksUp);
  const way = clicksUp < 0 ? 'down' : 'up';
  return `${clicks} ${clicks === 1 ? 'click' : 'clicks'} ${way}${isClickAssumed ? ' (taken for granted)' : ''}`;
};

/** How readings were understood, a line each. */
const understood = ({ readings: { readings }, learned: { apart, suspects } }: ReadOff): readonly string[] =>
  tableLines(
    readings.map((reading, at) => [
      at === 0 ? '  begins' : `  ${turned(reading, apart.includes(at))}`,
      reading.text,
      [
        ...(reading.stop === null ? [] : [`${reading.stop} stop`]),
        ...(reading.isSure ? ['read twice'] : []),
        ...(suspects.some((suspect) => suspect.at === at) ? ['FITS NOTHING, left out'] : []),
      ].join(', '),
    ]),
    [1],
  );

const gridOf = (spec: QuantiserSpec): Quantiser | null => {
  const made = makeQuantiser(spec);
  return made.ok ? made.value : null;
};

/** A value without what a screen that cuts off leaves away; what is a hair short of a digit has it. */
const cutOff = (
  value: number,
  { decimals, significantDigits = 4 }: NumberDisplay,
  isKilo: boolean,
): number => {
  if (value === 0) return value;
  const size = isKilo ? value / 1000 : value;
  const places = decimals ?? significantDigits - 1 - Math.floor(Math.log10(Math.abs(size)) + 1e-12);
  const units = size * 10 ** places;
  const cut = Math.trunc(units + Math.sign(units) * 1e-9) / 10 ** places;
  return isKilo ? cut * 1000 : cut;
};

/** A value as the desk that was read would show it. */
const shower = (knob: Knob, { lastDigit }: Candidate, readings: readonly Reading[], grid: Quantiser) => {
  const style: NumberDisplay =
    displayOf(
      knob,
      readings.map(({ text }) => text),
    ) ?? displayFor(knob, [grid]);
  const cuts = !lastDigit.includes('rounded');
  return (index: number): string => {
    const value = grid.valueAt(step(index));
    const isKilo = style.kiloFromHz !== undefined && value >= style.kiloFromHz;
    return displayValue(knob, cuts ? cutOff(value, style, isKilo) : value, { [knob]: style });
  };
};

const stepsWords = ({ count, openEnds }: Candidate): string =>
  count === null ? `its ${openEnds.join(' and ')} stop not read` : `${count} values`;

/** First, last and middle values, to hold against the knob. */
const comparison = (knob: Knob, candidate: Candidate, readings: readonly Reading[]): string | null => {
  const { spec, count } = candidate;
  const grid = gridOf(spec);
  if (!grid || count === null || count < 2 || spec.kind === 'continuous') return null;
  const show = shower(knob, candidate, readings, grid);
  const middle = Math.floor(count / 2);
  const places = [0, 1, 2, middle - 1, middle, middle + 1, count - 3, count - 2, count - 1];
  const shown = [...new Set(places.filter((place) => place >= 0 && place < count))].sort((a, b) => a - b);
  return shown
    .map((place, at) => `${at > 0 && place - (shown[at - 1] ?? 0) > 1 ? '... ' : ''}${show(place)}`)
    .join(' ');
};

const kilohertz = ({ least, most }: Interval): string => {
  const [from, to] = [least, most].map((value) => (value / 1000).toFixed(3));
  return from === to ? `${from} kHz` : `${from} to ${to} kHz`;
};

const neighbour = (interval: Interval | null): string => (interval ? kilohertz(interval) : 'none');

/** How far what is open lies apart, in Hz: of all candidates and of each. */
const spreadHz = (all: readonly Neighbours[], side: 'below' | 'above'): number | null => {
  const known = all.flatMap((each) => each[side] ?? []);
  if (known.length === 0) return null;
  return Math.max(...known.map(({ most }) => most)) - Math.min(...known.map(({ least }) => least));
};

const mostShown = 6;

const nextToPilot = (candidates: readonly Candidate[], columns: number): readonly string[] => {
  const told = candidates.flatMap(({ nextToPilot: near, ...rest }) => (near ? [{ ...rest, near }] : []));
  if (told.length === 0) return [];
  const rows = told
    .slice(0, mostShown)
    .map(({ near, ...rest }, at) => [
      `  ${at + 1}  ${rest.count === null ? 'open' : `${rest.count} values`}`,
      neighbour(near.below),
      near.at ? 'yes' : 'no',
      neighbour(near.above),
    ]);
  const all = told.map(({ near }) => near);
  const [below, above] = [spreadHz(all, 'below'), spreadHz(all, 'above')];
  const spread = [
    ...(below === null ? [] : [`${below.toFixed(1)} Hz below`]),
    ...(above === null ? [] : [`${above.toFixed(1)} Hz above`]),
  ].join(' and ');
  return [
    '',
    'Next to the pilot, 19 kHz:',
    ...tableLines([['  grid', 'below', 'on it', 'above'], ...rows], [], columns),
    ...wrap(
      `How far the screen's digits and what is left open let these vary: ${spread} the pilot.`,
      columns,
    ),
  ];
};

/** How many grids are left, and the simplest. */
export const leftWords = ({ candidates, areMore }: Learned, knob: Knob): string => {
  const [best, ...others] = candidates;
  if (!best) return 'No rule that is known here explains what was read.';
  const many = areMore
    ? 'Many grids explain'
    : others.length === 0
      ? 'One grid explains'
      : `${candidates.length} grids explain`;
  return `${many} what was read${others.length === 0 && !areMore ? '' : ', the simplest'}: ${gridPhrase(best, knob)}.`;
};

const kindWords: Readonly<Record<string, string>> = {
  linear: 'equal steps',
  geometric: 'equal ratios',
  'ratio-steps': 'equal ratios',
  'octave-fraction': 'fractions of the octave',
  'preferred-numbers': 'preferred numbers',
  'significant-digits': 'numbers of so many digits',
  'piecewise-linear': 'steps that change',
  table: 'a list of values',
  continuous: 'no steps',
};

const gridPhrase = (candidate: Candidate, knob: Knob): string => {
  const grid = gridOf(candidate.spec);
  const show = (index: number) =>
    grid ? displayValue(knob, grid.valueAt(step(index)), { [knob]: displayFor(knob, [grid]) }) : '';
  const range = grid ? `, ${show(0)} to ${show(grid.count - 1)}` : '';
  const { spec } = candidate;
  const by = spec.kind === 'linear' ? ` of ${spec.step}` : '';
  return `${kindWords[spec.kind] ?? spec.kind}${by}${range}, ${stepsWords(candidate)}`;
};

const luckWords = (luck: number | null): string =>
  luck === null || luck <= 0
    ? ''
    : luck < 0.001
      ? ' A wrong rule would hardly have fitted: by less than one chance in a thousand.'
      : ` A wrong rule would have fitted by one chance in ${Math.max(1, Math.round(1 / luck))}.`;

const verdict = ({ learned, readings }: ReadOff): readonly string[] => {
  const { isSettled, candidates, suspects, otherSuspects, next, luck } = learned;
  const texts = (all: typeof suspects) => all.map(({ reading }) => printable(reading.text)).join(', ');
  const doubt =
    suspects.length === 0
      ? []
      : [
          `${texts(suspects)} ${suspects.length === 1 ? 'fits' : 'fit'} nothing while all the others agree: most likely ${suspects.length === 1 ? 'a slip' : 'slips'}.${otherSuspects.length > 0 ? ` It may also be ${texts(otherSuspects)}.` : ''}`,
        ];
  if (isSettled) {
    const left = candidates.length > 1 ? ' Those that are left show the same on this screen.' : '';
    return [
      ...doubt,
      `SETTLED.${left}${luckWords(luck)} The line in braces goes into "quantisers" of a target file.`,
    ];
  }
  const ask = next ? [nextWords(next, readings.knob)] : [];
  return [
    ...doubt,
    `NOT SETTLED.${next ? ' Next reading:' : ' No reading here would tell more; compare the values above with the knob.'}`,
    ...ask,
  ];
};

const limit =
  'Held against every rule known here. A desk that follows none, or has other steps where nothing was read, is ruled out only by reading every value.';

/** What readings tell, for people: how they were understood, the grid to paste, what it says of the pilot, what to read next. */
export const readingsLines = (read: ReadOff, typed: string, columns: number): readonly string[] => {
  const { learned, readings } = read;
  const { candidates } = learned;
  const [best, ...others] = candidates;
  const shown = best ? comparison(readings.knob, best, readings.readings) : null;
  const list = others
    .slice(0, mostShown - 1)
    .flatMap((each) => hang('  ', gridPhrase(each, readings.knob), columns));
  return [
    `${readings.knob}, as it was read:`,
    ...understood(read),
    '',
    ...wrap(leftWords(learned, readings.knob), columns),
    // What does not end yet is no grid to paste.
    ...(best && best.openEnds.length === 0 ? [`  ${JSON.stringify(best.spec)}`] : []),
    ...(best && best.openEnds.length === 0 && best.reasons.length > 0
      ? hang('  simple: ', best.reasons.join('; '), columns)
      : []),
    ...(shown ? ['', ...hang('To compare with the knob: ', shown, columns)] : []),
    ...nextToPilot(candidates, columns),
    ...(list.length > 0 ? ['', 'Also possible:', ...list] : []),
    ...(others.length >= mostShown ? [`  and ${others.length - mostShown + 1} more (--json has all)`] : []),
    '',
    ...verdict(read).flatMap((line) => wrap(line, columns)),
    ...(learned.next && !learned.isSettled
      ? [
          'Then, with that in the place of VALUE:',
          soFarCommand(readings.knob, withMore(typed, read, 'VALUE')),
        ]
      : []),
    '',
    ...wrap(limit, columns),
  ];
};
