import { sideBySide } from '../../layout/columns.js';
import { displayWidth } from '../../layout/display-width.js';
import { wrap } from '../../layout/wrap.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { printable } from '../../units/quote.js';
import { filterText, perColumn } from './filter-lines.js';
import { clicksText, displayText, errorTexts } from './knob-text.js';
import type { Page, TypeLabels } from './page.js';

/** One way of telling filters, a line each: what stands in it, and how close. */
interface Layout {
  readonly clicks: boolean;
  readonly error: boolean;
  /** Width and gain as one column, for few filters have both. */
  readonly joined: boolean;
  readonly gap: string;
}

const tightest: Layout = { clicks: false, error: false, joined: true, gap: ' ' };

/** The most telling first. */
const layouts: readonly Layout[] = [
  { clicks: true, error: true, joined: false, gap: '  ' },
  { clicks: true, error: false, joined: false, gap: '  ' },
  { clicks: false, error: false, joined: false, gap: '  ' },
  { clicks: false, error: false, joined: true, gap: '  ' },
  tightest,
];

/** Where a window is narrower, how far a frequency lies off is left to the full text. */
const errorColumns = 100;

const withoutEmpty = (texts: readonly string[]): readonly string[] => texts.filter((text) => text !== '');

const cellsOf = (
  placed: PlacedFilter,
  labels: TypeLabels,
  { clicks, error, joined }: Layout,
): readonly string[] => {
  const knobs = perColumn(placed, (knob, position) => {
    const found = clicks ? clicksText(position).replace(' stop', '') : '';
    return `${displayText(knob, position)}${found === '' ? '' : ` (${found})`}`;
  });
  const [frequency, width, gain] = knobs;
  const [offBy] = errorTexts(placed);
  return [
    placed.slot,
    filterText(placed, labels),
    frequency,
    ...(joined ? [withoutEmpty([width, gain]).join(' ')] : [width, gain]),
    ...(error && offBy !== '' ? [`${offBy} off`] : []),
  ].map(printable);
};

const widthsOf = (rows: readonly (readonly string[])[]): readonly number[] =>
  Array.from({ length: Math.max(...rows.map((cells) => cells.length)) }, (_, column) =>
    Math.max(...rows.map((cells) => displayWidth(cells[column] ?? ''))),
  );

/** How far in filters stand, below the mixes they are for. */
const indentFor = (columns: number): string => (columns < 60 ? '' : '  ');

/** What no line has room for: the filter first, its values below, each whole where a line can hold it. */
const brokenLines = (cells: readonly string[], columns: number): readonly string[] => {
  const told = withoutEmpty(cells);
  const line = told.join(' ');
  if (displayWidth(line) <= columns) return [line];
  const [slot = '', filter = '', ...values] = told;
  const indent = '    ';
  const whole = values.filter((value) => displayWidth(value) <= columns - indent.length);
  return [
    ...wrap(`${slot} ${filter}`, columns, indent),
    ...wrap(values.join(' '), columns - indent.length, '', whole).map((each) => `${indent}${each}`),
  ];
};

/** Filters told, and whether that took leaving their clicks out. */
export interface ToldFilters {
  readonly lines: readonly string[];
  readonly clicks: 'told' | 'left-out' | 'none';
}

const hasClicks = (filters: readonly PlacedFilter[]): boolean =>
  filters.some((placed) =>
    perColumn(placed, (_, position) => clicksText(position)).some((text) => text !== ''),
  );

/**
 * The filters of each group of mixes, a line each: slot, filter, frequency, Q or slope, gain, clicks in brackets, how far
 * the frequency lies off; without what a line has no room for. Groups are aligned with each other where all have room for
 * clicks, and each within itself where not.
 */
export const shortFilterLines = (
  groups: readonly (readonly PlacedFilter[])[],
  { labels, columns }: Pick<Page, 'labels' | 'columns'>,
): readonly ToldFilters[] => {
  const indent = indentFor(columns);
  const room = columns - indent.length;
  const rowsIn = (filters: readonly PlacedFilter[], layout: Layout) =>
    filters.map((placed) => cellsOf(placed, labels, layout));
  const bestFor = (filters: readonly PlacedFilter[]) =>
    layouts
      .filter(({ error }) => !error || columns >= errorColumns)
      .map((layout) => ({ layout, widths: widthsOf(rowsIn(filters, layout)) }))
      .find(({ layout: { gap }, widths }) => {
        const told = widths.filter((width) => width > 0);
        return told.reduce((sum, width) => sum + width + gap.length, -gap.length) <= room;
      });
  const all = groups.flat();
  const shared = all.length === 0 ? undefined : bestFor(all);
  return groups.map((filters) => {
    if (filters.length === 0) return { lines: [], clicks: 'none' };
    const best = shared?.layout.clicks ? shared : bestFor(filters);
    const layout = best?.layout ?? tightest;
    const lines = rowsIn(filters, layout).flatMap((cells) => {
      if (!best) return brokenLines(cells, room);
      const kept = best.widths.flatMap((width, column) => (width > 0 ? [column] : []));
      return sideBySide(
        kept.map((column) => [cells[column] ?? '']),
        kept.map((column) => best.widths[column] ?? 0),
        [],
        layout.gap,
      );
    });
    const clicks = !hasClicks(filters) ? 'none' : layout.clicks ? 'told' : 'left-out';
    return { lines: lines.map((line) => `${indent}${line}`), clicks };
  });
};
