import { makeCanvas, type PlotScale } from '../layout/canvas.js';
import { columnLines, widthBeside } from '../layout/columns.js';
import { wrap } from '../layout/wrap.js';
import {
  belowText,
  closeHz,
  type Levels,
  type ResponseView,
  type StretchHz,
  spanDb,
  wholeHz,
} from './response-view.js';

/** The marks of a plot, the last seen where two fall on one place. */
const marks = {
  pilot: '|',
  range: ':',
  keep: '_',
  asked: '-',
  hand: 'h',
  least: '=',
  set: '#',
  place: '^',
  setAt: '*',
  link: 'L',
  pilotBelow: 'P',
} as const;

const khz = (frequencyHz: number): string =>
  frequencyHz < 1000 ? String(frequencyHz) : `${Number((frequencyHz / 1000).toPrecision(4))}k`;

/** A scale of frequency by ratio. */
const frequencyScale = ([from, to]: readonly [number, number], ticks: readonly number[]): PlotScale => ({
  ticks,
  cell: (value, cells) => Math.round((Math.log(value / from) / Math.log(to / from)) * (cells - 1)),
  label: khz,
});

/** How far apart levels are told, by how much is shown at most. */
const levelSteps = [
  [12, 2],
  [24, 5],
  [40, 10],
] as const;

const levelScale = ([lowest, highest]: readonly [number, number]): PlotScale => {
  const step = levelSteps.find(([spanDb]) => highest - lowest <= spanDb)?.[1] ?? 20;
  const first = Math.ceil(lowest / step);
  return {
    ticks: Array.from(
      { length: Math.floor(highest / step) - first + 1 },
      (_, index) => (first + index) * step,
    ),
    cell: (value, cells) => Math.round(((value - lowest) / (highest - lowest)) * (cells - 1)),
    label: (tick) => String(tick + 0),
  };
};

/** The least and the most of a curve over each column, so that nothing narrower than a column is lost. */
const spans = (
  { frequenciesHz }: ResponseView,
  levels: readonly Levels[],
  across: PlotScale,
  width: number,
): ReadonlyMap<number, readonly [least: number, most: number]> => {
  const found = new Map<number, readonly [number, number]>();
  for (let index = 0; index < frequenciesHz.length; index++) {
    const column = across.cell(frequenciesHz[index] ?? 0, width);
    for (const each of levels) {
      const level = each[index] ?? Number.NaN;
      if (Number.isNaN(level)) continue;
      const [least, most] = found.get(column) ?? [level, level];
      found.set(column, [Math.min(least, level), Math.max(most, level)]);
    }
  }
  return found;
};

const panelLines = (
  view: ResponseView,
  columns: number,
  spanHz: StretchHz,
  ticks: readonly number[],
  places: ResponseView['places'],
): readonly string[] => {
  const canvas = makeCanvas(columns);
  const { width, height, put } = canvas;
  const across = frequencyScale(spanHz, ticks);
  const up = levelScale(spanDb(view));
  const columnOf = (frequencyHz: number) => across.cell(frequencyHz, width);
  const fill = (
    fromHz: number,
    toHz: number,
    row: (column: number) => readonly number[],
    mark: string,
  ): void => {
    for (
      let column = Math.max(0, columnOf(fromHz));
      column <= Math.min(width - 1, columnOf(toHz));
      column++
    ) {
      for (const at of row(column)) put(column, at, mark);
    }
  };
  const rowsBetween = (least: number, most: number): readonly number[] => {
    const from = Math.max(0, up.cell(least, height));
    return Array.from({ length: Math.max(0, up.cell(most, height) - from + 1) }, (_, index) => from + index);
  };
  const draw = (levels: readonly Levels[], mark: string): void => {
    for (const [column, [least, most]] of spans(view, levels, across, width)) {
      for (const row of rowsBetween(least, most)) put(column, row, mark);
    }
  };
  const { guard, set, asked, byHand, ways } = view;
  const everyRow = Array.from({ length: height }, (_, row) => row);
  if (guard)
    fill(guard.pilotHz - guard.windowHz, guard.pilotHz + guard.windowHz, () => everyRow, marks.pilot);
  if (ways.count > 1) draw([set.lowestDb, set.highestDb], marks.range);
  if (guard)
    fill(guard.keepLowHz, guard.keepHighHz, () => [up.cell(-guard.keepLossAtMostDb, height)], marks.keep);
  draw([asked], marks.asked);
  if (byHand) draw([byHand], marks.hand);
  draw([set.levelsDb], marks.set);
  if (guard) {
    const row = up.cell(-guard.attenuationAtLeastDb, height);
    fill(guard.pilotHz - guard.windowHz, guard.pilotHz + guard.windowHz, () => [row], marks.least);
  }
  const markedAt = (frequenciesHz: readonly number[], mark: string) =>
    frequenciesHz
      .filter((each) => each >= spanHz[0] && each <= spanHz[1])
      .map((each) => [columnOf(each), mark] as const);
  const below = [
    ...(places
      ? [new Map([...markedAt(places.frequenciesHz, marks.place), ...markedAt(places.setHz, marks.setAt)])]
      : []),
    ...(guard
      ? [
          new Map([
            ...(guard.linkEndsHz === null ? [] : markedAt([guard.linkEndsHz], marks.link)),
            ...markedAt([guard.pilotHz], marks.pilotBelow),
          ]),
        ]
      : []),
  ];
  return canvas.lines({ across, up }, { x: 'Hz', y: 'dB' }, below);
};

/** Of several ways of building a line shows one: another curve's may be another. */
const inItsWay = (name: string, { ways, guard }: ResponseView): string =>
  ways.count === 1
    ? name
    : guard
      ? `${name}, in that of ${ways.count} ways of building that is worst for the pilot`
      : `${name}, built as ${ways.drawn}`;

/** What each mark of some plots means. */
export const plotLegend = (views: readonly ResponseView[], columns: number): readonly string[] => {
  const told = views.flatMap((view): readonly (readonly [string, string])[] => [
    [marks.set, inItsWay('set', view)],
    ...(view.ways.count > 1
      ? [[marks.range, 'set, all ways of building, each as far as it reaches'] as const]
      : []),
    [marks.asked, 'asked'],
    ...(view.byHand ? [[marks.hand, inItsWay('by hand', view)] as const] : []),
    ...(view.guard
      ? ([
          [marks.keep, 'the music is to stay above'],
          [marks.least, 'the pilot is to be below'],
          ...(view.guard.linkEndsHz === null ? [] : [[marks.link, 'where the link ends'] as const]),
          [marks.pilotBelow, 'the pilot'],
        ] as const)
      : []),
    ...(view.guard && view.places
      ? [
          view.places.count > view.places.frequenciesHz.length
            ? ([
                ' ',
                `bells and notches can stand at ${view.places.count} places from ${closeHz(view.guard).map(khz).join(' to ')}`,
              ] as const)
            : ([marks.place, 'where bells and notches can stand'] as const),
          ...(view.places.setHz.length > 0 ? [[marks.setAt, 'where one is set'] as const] : []),
        ]
      : []),
  ]);
  const once = new Map(told.map((cells) => [cells.join(), cells]));
  return [...once.values()].flatMap((cells) => columnLines(cells, [1, widthBeside([1], columns)]));
};

/** Below this only few frequencies are told. */
const roomyColumns = 60;

/** How far apart the ticks of the close look stand at least: what "20k" takes, and a blank. */
const leastTickColumns = 4.5;

/** Round kilohertz, as many as have room. */
const closeTicks = ([from, to]: StretchHz, columns: number): readonly number[] => {
  const columnsPerRatio = columns / Math.log(to / from);
  let step = 1000;
  while (to - step > from && columnsPerRatio * Math.log(to / (to - step)) < leastTickColumns) step += 1000;
  const first = Math.ceil(from / step);
  return Array.from({ length: Math.floor(to / step) - first + 1 }, (_, index) => (first + index) * step);
};

/** The response of a mix's filters in characters, whole and close to the pilot; without a pilot whole. */
export const responsePlotLines = (view: ResponseView, columns: number): readonly string[] => {
  const { guard, places } = view;
  const wholeTicks =
    columns >= roomyColumns
      ? [20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000]
      : [20, 100, 1000, 10000];
  const whole = panelLines(view, columns, wholeHz(guard), wholeTicks, null);
  if (!guard) return whole;
  const close = closeHz(guard);
  const below = belowText(view, close);
  return [
    ...whole,
    '',
    ...panelLines(view, columns, close, closeTicks(close, columns - 11), places),
    ...(below === null ? [] : wrap(below, columns)),
  ];
};
