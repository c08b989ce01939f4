import { wrap } from '../layout/wrap.js';
import { arrow, cutTo, legendRowUnits, type Mark, markLegend, verdictMark } from './marks.js';
import { type Element, element } from './markup.js';
import { type Colour, fillIn, strokeIn } from './palette.js';
import { label, picture, straight, textUnits, units } from './panel.js';
import type { Spot } from './paths.js';

/** One of several, and how it does. */
export interface MeritRow {
  readonly name: string;
  /** A word, and the mark that goes with it. */
  readonly verdict: { readonly text: string; readonly is: 'good' | 'bad' | 'plain' };
  /** What is taken at the pilot and what is asked; null where there is nothing to show. */
  readonly pilot: { readonly takenDb: number; readonly askedDb: number } | null;
  /** The figures in words, under the bar. */
  readonly figures: string;
}

/** What a merit figure shows: a row each, the best first. */
export interface MeritView {
  readonly title: string;
  readonly description: string;
  readonly rows: readonly MeritRow[];
  readonly words: Readonly<Record<'taken' | 'asked', string>>;
}

const width = 360;
const left = 17;
const right = 4;
const barUnits = 8;
const lineUnits = textUnits + 5;
const gapUnits = 9;
/** How much of a row is for the verdict. */
const verdictUnits = 130;
/** As many letters of figures as have room in a row. */
const figureColumns = 40;
/** A scale goes no further, so that one who takes very much does not squeeze all others. */
const widestScaleDb = 40;
/** What is asked stays well inside it. */
const roomOverAsked = 1.25;
/** What a bar that goes on leaves to its arrow. */
const arrowUnits = 10;

const askedMark = ([x, y]: Spot): Element =>
  straight([x, y - 4], [x, y + barUnits + 4], { 'stroke-width': 2.5, ...strokeIn('pilotEdge') });

const zeroMark = ([x, y]: Spot): Element =>
  straight([x, y - 2], [x, y + barUnits + 2], { 'stroke-width': 1.2, ...strokeIn('ink') });

const barMark =
  (colour: Colour): Mark =>
  ([x, y]) =>
    element('rect', { x: units(x - 12), y: units(y - 4), width: 24, height: barUnits, ...fillIn(colour) });

/** What all bars are drawn by: from the least to the most decibels shown, and where they lie across. */
interface Scale {
  readonly leastDb: number;
  readonly mostDb: number;
  x(valueDb: number): number;
}

const scaleOf = (rows: readonly MeritRow[]): Scale => {
  const bars = rows.flatMap(({ pilot }) => (pilot ? [pilot] : []));
  const asked = bars.map(({ askedDb }) => askedDb);
  const taken = bars.map(({ takenDb }) => takenDb);
  const widestDb = Math.max(widestScaleDb, ...asked.map((each) => Math.ceil(roomOverAsked * each)));
  const leastDb = Math.max(-widestDb, Math.min(0, ...taken));
  const mostDb = Math.min(widestDb, Math.max(1, ...asked, ...taken));
  const share = (valueDb: number): number => (valueDb - leastDb) / (mostDb - leastDb);
  return { leastDb, mostDb, x: (valueDb) => left + share(valueDb) * (width - left - right) };
};

const fill = (colour: Colour, top: number, from: number, to: number): Element =>
  element('rect', {
    x: units(from),
    y: units(top),
    width: units(to - from),
    height: barUnits,
    ...fillIn(colour),
  });

/** A bar from nothing to what is taken or, to the other side, added; and where what is asked lies. */
const bar = (
  top: number,
  { takenDb, askedDb }: NonNullable<MeritRow['pilot']>,
  { leastDb, mostDb, x }: Scale,
): readonly Element[] => {
  const [start, end, zero] = [left, width - right, x(0)];
  const middle = top + barUnits / 2;
  const taken =
    takenDb > mostDb
      ? [fill('set', top, zero, end - arrowUnits), arrow('right', 'set')([end, middle])]
      : takenDb < leastDb
        ? [fill('hand', top, start + arrowUnits, zero), arrow('left', 'hand')([start, middle])]
        : takenDb < 0
          ? [fill('hand', top, x(takenDb), zero)]
          : [fill('set', top, zero, x(takenDb))];
  return [
    fill('grid', top, start, end),
    ...taken,
    ...(leastDb < 0 ? [zeroMark([zero, top])] : []),
    askedMark([x(askedDb), top]),
  ];
};

/** Under a bar figures are told in full: in two rows or more where one has no room. */
const figureLines = (figures: string): readonly string[] =>
  figures === '' || cutTo(figures, width - left - right) === figures
    ? [figures].filter((text) => text !== '')
    : wrap(figures, figureColumns);

const rowHeight = ({ pilot, figures }: MeritRow): number =>
  lineUnits + (pilot ? barUnits + 5 : 0) + figureLines(figures).length * lineUnits + gapUnits;

const row = (top: number, { name, verdict, pilot, figures }: MeritRow, scale: Scale): readonly Element[] => {
  const baseline = top + textUnits;
  const room = width - left - right;
  const figuresTop = top + lineUnits + (pilot ? barUnits + 5 : 0);
  return [
    verdictMark(verdict.is)([8, baseline - 4]),
    label(cutTo(name, room - verdictUnits, true), [left, baseline], { 'font-weight': 700, ...fillIn('ink') }),
    label(verdict.text, [width - right, baseline], { anchor: 'end', ...fillIn('ink') }),
    ...(pilot ? bar(top + lineUnits, pilot, scale) : []),
    ...figureLines(figures).map((text, index) =>
      label(text, [left, figuresTop + index * lineUnits + textUnits]),
    ),
  ];
};

/** Several side by side: what each takes at the pilot against what is asked, its verdict and its figures. */
export const meritFigure = (view: MeritView): Element => {
  const { rows, words } = view;
  const scale = scaleOf(rows);
  const shown = rows.flatMap(({ pilot }) => (pilot ? [pilot.takenDb] : []));
  const tops = rows.map(
    (_, index) => 6 + rows.slice(0, index).reduce((sum, each) => sum + rowHeight(each), 0),
  );
  const legendTop = 6 + rows.reduce((sum, each) => sum + rowHeight(each), 0) + 6;
  const legend: readonly { readonly mark: Mark; readonly text: string; readonly isThere: boolean }[] = [
    { mark: barMark('set'), text: words.taken, isThere: shown.length > 0 },
    { mark: barMark('hand'), text: 'added there', isThere: scale.leastDb < 0 },
    { mark: ([x, y]) => zeroMark([x, y - 4]), text: 'neither: 0 dB', isThere: scale.leastDb < 0 },
    {
      mark: arrow('right', 'set'),
      text: `goes on: more than ${scale.mostDb} dB`,
      isThere: shown.some((each) => each > scale.mostDb),
    },
    {
      mark: arrow('left', 'hand'),
      text: `goes on: more than ${-scale.leastDb} dB added`,
      isThere: shown.some((each) => each < scale.leastDb),
    },
    { mark: ([x, y]) => askedMark([x, y - 4]), text: words.asked, isThere: shown.length > 0 },
  ];
  const told = legend.filter(({ isThere }) => isThere);
  return picture(
    view,
    [width, legendTop + told.length * legendRowUnits],
    [
      ...rows.flatMap((each, index) => row(tops[index] ?? 0, each, scale)),
      ...markLegend([left - 12, legendTop], told),
    ],
  );
};
