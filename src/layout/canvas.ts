/** Where values lie among cells, and which of them are told. */
export interface PlotScale {
  readonly ticks: readonly number[];
  /** The cell of a value, of so many; outside of them for a value outside the scale. */
  cell(value: number, cells: number): number;
  label(tick: number): string;
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

/** Characters between two axes. Cells count from the lower left corner. */
export interface Canvas {
  readonly width: number;
  readonly height: number;
  /** Puts a mark over what is there; outside the canvas nothing is put. */
  put(column: number, row: number, mark: string): void;
  /** The lines of the plot, no wider than the canvas was made for. `below` are rows of marks under the lower axis. */
  lines(
    scales: { readonly across: PlotScale; readonly up: PlotScale },
    titles: PlotTitles,
    below?: readonly ReadonlyMap<number, string>[],
  ): readonly string[];
}

/** An empty canvas for lines of so many columns, axes included. */
export const makeCanvas = (columns: number): Canvas => {
  const width = columns - marginColumns - overhangColumns;
  const cells = Array.from({ length: rows }, () => new Array<string>(width).fill(' '));
  return {
    width,
    height: rows,
    put: (column, row, mark) => {
      const line = cells[rows - 1 - row];
      if (line && column >= 0 && column < width) line[column] = mark;
    },
    lines: ({ across, up }, titles, below = []) => {
      const labelAt = new Map(up.ticks.map((tick) => [rows - 1 - up.cell(tick, rows), up.label(tick)]));
      const tickColumns = across.ticks.map((tick) => across.cell(tick, width));
      const floor = Array.from({ length: width }, (_, column) =>
        column > 0 && tickColumns.includes(column) ? '+' : '-',
      );
      const margin = ' '.repeat(marginColumns);
      const labels = across.ticks.reduce((line, tick) => {
        const label = across.label(tick);
        const from = marginColumns + across.cell(tick, width) - Math.floor(label.length / 2);
        return line.padEnd(from) + label;
      }, '');
      const marked = below.map((marks) =>
        `${margin}${Array.from({ length: width }, (_, column) => marks.get(column) ?? ' ').join('')}`.trimEnd(),
      );
      return [
        titles.y,
        ...cells.map((line, row) =>
          `${(labelAt.get(row) ?? '').padStart(labelColumns)} |${line.join('')}`.trimEnd(),
        ),
        `${margin.slice(1)}+${floor.join('')}`,
        labels,
        ...marked,
        titles.x.padStart(marginColumns + width),
      ];
    },
  };
};
