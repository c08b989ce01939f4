import { makeCanvas, type PlotScale, type PlotTitles } from './canvas.js';

/** A height told by one mark. */
export interface PlotLevel {
  readonly mark: string;
  readonly y: number;
}

/** Points told by one mark. */
export interface PlotSeries {
  readonly mark: string;
  readonly points: readonly { readonly x: number; readonly y: number }[];
  /** Whether dots lead from each point to the next, at the height of the first: what holds until something better does. */
  readonly stepped?: boolean;
}

/** A wider plot would show no more. */
const widestColumns = 71;

const steps: readonly number[] = [1, 2, 5, 10];

/** A scale from zero, or from below, to beyond the highest value, with a few round ticks. */
const scaleOver = (values: readonly number[], mostTicks: number): PlotScale => {
  const [least, most] = [Math.min(0, ...values), Math.max(0, ...values)];
  const rough = (most - least || 1) / mostTicks;
  const magnitude = 10 ** Math.floor(Math.log10(rough));
  const step = magnitude * (steps.find((each) => each * magnitude >= rough) ?? 10);
  const first = Math.floor(least / step);
  const last = Math.max(first + 1, Math.ceil(most / step));
  const decimals = Math.max(0, -Math.floor(Math.log10(step)));
  return {
    ticks: Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step),
    cell: (value, cells) => Math.round(((value / step - first) / (last - first)) * (cells - 1)),
    label: (tick) => tick.toFixed(decimals),
  };
};

/**
 * Series as characters, no wider than `columns` nor than 71, over levels that run all the way across; where two fall on
 * one place, the later one is seen. Titles are not broken.
 */
export const plotLines = (
  series: readonly PlotSeries[],
  titles: PlotTitles,
  levels: readonly PlotLevel[] = [],
  columns = widestColumns,
): readonly string[] => {
  const canvas = makeCanvas(Math.min(columns, widestColumns));
  const { width, height, put } = canvas;
  const all = series.flatMap(({ points }) => points);
  const across = scaleOver(
    all.map(({ x }) => x),
    width < 45 ? 3 : 6,
  );
  const up = scaleOver(
    [...all, ...levels].map(({ y }) => y),
    4,
  );
  for (const { mark, y } of levels) {
    for (let column = 0; column < width; column++) put(column, up.cell(y, height), mark);
  }
  for (const { mark, points, stepped } of series) {
    const places = points.map(({ x, y }) => [across.cell(x, width), up.cell(y, height)] as const);
    places.forEach(([column, row], index) => {
      const end = places[index + 1]?.[0] ?? width;
      if (stepped) for (let at = column + 1; at < end; at++) put(at, row, '.');
    });
    for (const [column, row] of places) put(column, row, mark);
  }
  return canvas.lines({ across, up }, titles);
};
