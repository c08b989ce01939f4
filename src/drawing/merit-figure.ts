import { cutTo, legendRowUnits, type Mark, markLegend, verdictMark } from './marks.js';
import { type Element, element } from './markup.js';
import { fillIn, strokeIn } from './palette.js';
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
const left = 18;
const right = 8;
const barUnits = 8;
const lineUnits = textUnits + 5;
const gapUnits = 9;
/** How much of a row is for the verdict. */
const verdictUnits = 110;

const askedMark = ([x, y]: Spot): Element =>
  straight([x, y - 4], [x, y + barUnits + 4], { 'stroke-width': 2.5, ...strokeIn('pilotEdge') });

const barMark: Mark = ([x, y]) =>
  element('rect', { x: units(x - 12), y: units(y - 4), width: 24, height: barUnits, ...fillIn('set') });

type Across = (valueDb: number) => number;

/** A bar from nothing to what is taken, and where what is asked lies. */
const bar = (
  top: number,
  { takenDb, askedDb }: NonNullable<MeritRow['pilot']>,
  x: Across,
): readonly Element[] => {
  const [from, to] = [x(Math.min(0, takenDb)), x(Math.max(0, takenDb))];
  return [
    element('rect', {
      x: left,
      y: units(top),
      width: units(width - left - right),
      height: barUnits,
      ...fillIn('grid'),
    }),
    element('rect', {
      x: units(from),
      y: units(top),
      width: units(to - from),
      height: barUnits,
      ...fillIn('set'),
    }),
    askedMark([x(askedDb), top]),
  ];
};

const rowHeight = ({ pilot, figures }: MeritRow): number =>
  lineUnits + (pilot ? barUnits + 5 : 0) + (figures === '' ? 0 : lineUnits) + gapUnits;

const row = (top: number, { name, verdict, pilot, figures }: MeritRow, x: Across): readonly Element[] => {
  const baseline = top + textUnits;
  const room = width - left - right;
  const figuresTop = top + lineUnits + (pilot ? barUnits + 5 : 0);
  return [
    verdictMark(verdict.is)([8, baseline - 4]),
    label(cutTo(name, room - verdictUnits, true), [left, baseline], { 'font-weight': 700, ...fillIn('ink') }),
    label(verdict.text, [width - right, baseline], { anchor: 'end', ...fillIn('ink') }),
    ...(pilot ? bar(top + lineUnits, pilot, x) : []),
    ...(figures === '' ? [] : [label(cutTo(figures, room), [left, figuresTop + textUnits])]),
  ];
};

/** Several side by side: what each takes at the pilot against what is asked, its verdict and its figures. */
export const meritFigure = (view: MeritView): Element => {
  const { rows, words } = view;
  const shown = rows.flatMap(({ pilot }) => (pilot ? [pilot.takenDb, pilot.askedDb] : []));
  const [least, most] = [Math.min(0, ...shown), Math.max(1, ...shown)];
  const x: Across = (valueDb) => left + ((valueDb - least) / (most - least)) * (width - left - right);
  const tops = rows.map(
    (_, index) => 6 + rows.slice(0, index).reduce((sum, each) => sum + rowHeight(each), 0),
  );
  const legendTop = 6 + rows.reduce((sum, each) => sum + rowHeight(each), 0) + 6;
  const legend =
    shown.length === 0
      ? []
      : [
          { mark: barMark, text: words.taken },
          { mark: ([across, y]: Spot) => askedMark([across, y - 4]), text: words.asked },
        ];
  return picture(
    view,
    [width, legendTop + legend.length * legendRowUnits],
    [
      ...rows.flatMap((each, index) => row(tops[index] ?? 0, each, x)),
      ...markLegend([left - 12, legendTop], legend),
    ],
  );
};
