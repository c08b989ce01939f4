import { sideBySide } from '../../layout/columns.js';
import { displayWidth } from '../../layout/display-width.js';
import { wrap } from '../../layout/wrap.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { printable } from '../../units/quote.js';
import { clicksText, displayText, errorTexts, filterText, type TypeLabels } from '../words/settings.js';
import { perColumn } from './filter-lines.js';
import type { Page } from './page.js';

/** One way of telling filters, a line each: what stands in it, and how close. */
interface Layout {
  /** What each column is, once on the page. */
  readonly head: boolean;
  readonly clicks: boolean;
  readonly error: boolean;
  /** Width and gain as one column, for few filters have both. */
  readonly joined: boolean;
  readonly gap: string;
}

const roomy = { joined: false, gap: '  ' };
const tightest: Layout = { head: false, clicks: false, error: false, joined: true, gap: ' ' };

/** The most telling first. */
const layouts: readonly Layout[] = [
  { ...roomy, head: true, clicks: true, error: true },
  { ...roomy, head: true, clicks: true, error: false },
  { ...roomy, head: false, clicks: true, error: false },
  { ...roomy, head: false, clicks: true, error: false, joined: true },
  { ...roomy, head: true, clicks: false, error: false },
  { ...roomy, head: false, clicks: false, error: false },
  { ...tightest, gap: '  ' },
  tightest,
];

/** Where a window is narrower, how far a frequency lies off is left to the full text. */
const errorColumns = 100;

const heads = ['slot', 'filter', 'frequency', 'Q or slope', 'gain', 'off by'];

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
    ...(error ? [offBy] : []),
  ].map(printable);
};

/** How wide each column is; nothing where nothing stands in it. */
const widthsOf = (rows: readonly (readonly string[])[], { head }: Layout): readonly number[] =>
  Array.from({ length: Math.max(...rows.map((cells) => cells.length)) }, (_, column) => {
    const width = Math.max(...rows.map((cells) => displayWidth(cells[column] ?? '')));
    return head && width > 0 ? Math.max(width, heads[column]?.length ?? 0) : width;
  });

const alignedLines = (
  rows: readonly (readonly string[])[],
  widths: readonly number[],
  gap: string,
): readonly string[] => {
  const kept = widths.flatMap((width, column) => (width > 0 ? [column] : []));
  return rows.flatMap((cells) =>
    sideBySide(
      kept.map((column) => [cells[column] ?? '']),
      kept.map((column) => widths[column] ?? 0),
      [],
      gap,
    ),
  );
};

/** How far in filters stand, below the mixes they are for. */
const indentFor = (columns: number): string => (columns < 60 ? '' : '  ');

/** What no column has room for: the filter first, its values below, each whole where a line can hold it. */
const brokenLines = (
  [slot = '', filter = '', ...values]: readonly string[],
  columns: number,
): readonly string[] => {
  const indent = '    ';
  const told = withoutEmpty(values);
  const whole = told.filter((value) => displayWidth(value) <= columns - indent.length);
  return [
    ...wrap(`${slot} ${filter}`, columns, indent),
    ...wrap(told.join(' '), columns - indent.length, '', whole).map((each) => `${indent}${each}`),
  ];
};

/**
 * Rows that have no room beside each other as they are, since some filters take long to name: these in lines of their own,
 * by themselves where that is enough, or with their values below those of the others.
 */
const unevenLines = (rows: readonly (readonly string[])[], columns: number): readonly string[] => {
  const { gap } = tightest;
  const natural = widthsOf(rows, tightest);
  const beside = natural.reduce((sum, width, column) => (column === 1 ? sum : sum + width + gap.length), 0);
  const fits = ([, filter = '']: readonly string[]): boolean => displayWidth(filter) <= columns - beside;
  const widths = natural.map((width, column) =>
    column === 1 ? Math.max(0, ...rows.filter(fits).map(([, filter = '']) => displayWidth(filter))) : width,
  );
  return rows.flatMap((cells) => {
    if (fits(cells)) return alignedLines([cells], widths, gap);
    const [slot = '', filter = '', ...values] = cells;
    const padded = slot + ' '.repeat(Math.max(0, (widths[0] ?? 0) - displayWidth(slot)));
    const line = withoutEmpty([padded, filter, ...values]).join(gap);
    if (displayWidth(line) <= columns) return [line];
    const head = `${padded}${gap}${filter}`;
    return rows.some(fits) && displayWidth(head) <= columns
      ? [head, ...alignedLines([['', '', ...values]], widths, gap)]
      : brokenLines(cells, columns);
  });
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
      .map((layout) => ({ layout, widths: widthsOf(rowsIn(filters, layout), layout) }))
      .find(({ layout: { gap }, widths }) => {
        const told = widths.filter((width) => width > 0);
        return told.reduce((sum, width) => sum + width + gap.length, -gap.length) <= room;
      });
  const all = groups.flat();
  const shared = all.length === 0 ? undefined : bestFor(all);
  const first = groups.findIndex((filters) => filters.length > 0);
  return groups.map((filters, index) => {
    if (filters.length === 0) return { lines: [], clicks: 'none' };
    const best = shared?.layout.clicks ? shared : bestFor(filters);
    const layout = best?.layout ?? tightest;
    const rows = rowsIn(filters, layout);
    const lines = best
      ? alignedLines(layout.head && index === first ? [heads, ...rows] : rows, best.widths, layout.gap)
      : unevenLines(rows, room);
    const clicks = !hasClicks(filters) ? 'none' : layout.clicks ? 'told' : 'left-out';
    return { lines: lines.map((line) => `${indent}${line}`), clicks };
  });
};
