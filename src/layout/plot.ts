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

/** What stands at the axes, units included. */
export interface PlotTitles {
  readonly x: string;
  readonly y: string;
}

const rows = 16;
const labelColumns = 6;
/** What stands left of the plot: a label, a blank and the axis. */
const marginColumns = labelColumns + 2;
/** How far the label of the last tick may reach beyond the plot. */
const overhangColumns = 2;
/** A wider plot would show no more. */
const widestColumns = 71;

interface Scale {
  readonly ticks: readonly number[];
  /** The cell of a value, of so many. */
  cell(value: number, cells: number): number;
  label(tick: number): string;
}

const steps: readonly number[] = [1, 2, 5, 10];

/** A scale from zero, or from below, to beyond the highest value, with a few round ticks. */
const scaleOver = (values: readonly number[], mostTicks: number): Scale => {
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
  const width = Math.min(columns, widestColumns) - marginColumns - overhangColumns;
  const all = series.flatMap(({ points }) => points);
  const across = scaleOver(
    all.map(({ x }) => x),
    width < 45 ? 3 : 6,
  );
  const up = scaleOver(
    [...all, ...levels].map(({ y }) => y),
    4,
  );
  const canvas = Array.from({ length: rows }, () => new Array<string>(width).fill(' '));
  const put = (column: number, height: number, mark: string): void => {
    const row = canvas[rows - 1 - height];
    if (row) row[column] = mark;
  };
  for (const { mark, y } of levels) {
    for (let column = 0; column < width; column++) put(column, up.cell(y, rows), mark);
  }
  for (const { mark, points, stepped } of series) {
    const places = points.map(({ x, y }) => [across.cell(x, width), up.cell(y, rows)] as const);
    places.forEach(([column, height], index) => {
      const end = places[index + 1]?.[0] ?? width;
      if (stepped) for (let at = column + 1; at < end; at++) put(at, height, '.');
    });
    for (const [column, height] of places) put(column, height, mark);
  }
  const labelAt = new Map(up.ticks.map((tick) => [rows - 1 - up.cell(tick, rows), up.label(tick)]));
  const tickColumns = across.ticks.map((tick) => across.cell(tick, width)).slice(1);
  const floor = Array.from({ length: width }, (_, column) => (tickColumns.includes(column) ? '+' : '-'));
  const margin = ' '.repeat(marginColumns);
  const labels = across.ticks.reduce((line, tick) => {
    const label = across.label(tick);
    const from = marginColumns + across.cell(tick, width) - Math.floor(label.length / 2);
    return line.padEnd(from) + label;
  }, '');
  return [
    titles.y,
    ...canvas.map((cells, row) =>
      `${(labelAt.get(row) ?? '').padStart(labelColumns)} |${cells.join('')}`.trimEnd(),
    ),
    `${margin.slice(1)}+${floor.join('')}`,
    labels,
    titles.x.padStart(marginColumns + width),
  ];
};
