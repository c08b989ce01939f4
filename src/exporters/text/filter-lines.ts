import { columnLines, fittingWidth, widthBeside } from '../../layout/columns.js';
import type { Knob } from '../../model/knob.js';
import type { PlacedFilter } from '../../model/recipe.js';
import { clicksText, displayText, errorTexts, filterText, type TypeLabels } from '../words/settings.js';

const widthKnobs: readonly Knob[] = ['q', 'bandwidth', 'slope'];

/** A text for the knob of each: frequency, width, gain. */
export const perColumn = (
  { steps }: PlacedFilter,
  tell: (knob: Knob, position: NonNullable<PlacedFilter['steps'][Knob]>) => string,
): readonly [string, string, string] => {
  const textOf = (knob: Knob) => {
    const position = steps[knob];
    return position ? tell(knob, position) : '';
  };
  const widths = widthKnobs.map(textOf).filter((text) => text !== '');
  return [textOf('frequency'), widths.join(' '), textOf('gain')];
};

const hasText = (cells: readonly string[]): boolean => cells.some((cell) => cell !== '');

const filterRows = (placed: PlacedFilter, labels: TypeLabels): readonly (readonly string[])[] => {
  const clicks = perColumn(placed, (_, position) => clicksText(position));
  const errors = errorTexts(placed);
  return [
    [placed.slot, filterText(placed, labels), ...perColumn(placed, displayText)],
    ...(hasText(clicks) ? [['', '  clicks', ...clicks]] : []),
    ...(hasText(errors) ? [['', '  off by', ...errors]] : []),
  ];
};

const frequencyColumns = 23;
const widthColumns = 14;
const gainColumns = 11;
/** Beside the values, a filter in words needs so much. */
const leastFilterColumns = 12;

/** Three lines to a filter: what to set, how to find it, how far it lies off, under frequency, width and gain. */
const wideLines = (
  filters: readonly PlacedFilter[],
  labels: TypeLabels,
  widths: readonly number[],
): readonly string[] => [
  ...columnLines(['slot', 'filter', 'frequency', 'Q or slope', 'gain'], widths),
  ...filters.flatMap((placed, index) => [
    ...(index === 0 ? [] : ['']),
    ...filterRows(placed, labels).flatMap((cells) => columnLines(cells, widths)),
  ]),
];

const knobColumns = 9;
const leastValueColumns = 9;

/** A line to a knob, under its filter: what to set, and beside it how to find it and how far it lies off. */
const narrowLines = (
  placed: PlacedFilter,
  labels: TypeLabels,
  slotColumns: number,
  columns: number,
): readonly string[] => {
  const headWidths = [slotColumns, widthBeside([slotColumns], columns)];
  const [values, clicks] = [perColumn(placed, displayText), perColumn(placed, (_, at) => clicksText(at))];
  const errors = errorTexts(placed);
  const valueColumns = fittingWidth(values, leastValueColumns, widthColumns);
  const fixed = [0, knobColumns, valueColumns];
  const widths = [...fixed, widthBeside(fixed, columns)];
  const beside = (index: number): string => {
    const error = errors[index] ?? '';
    return [clicks[index] ?? '', error === '' ? '' : `off by ${error}`]
      .filter((text) => text !== '')
      .join('; ');
  };
  return [
    ...columnLines([placed.slot, filterText(placed, labels)], headWidths),
    ...['frequency', placed.steps.slope ? 'slope' : 'width', 'gain'].flatMap((knob, index) =>
      hasText([values[index] ?? '', beside(index)])
        ? columnLines(['', knob, values[index] ?? '', beside(index)], widths)
        : [],
    ),
  ];
};

/**
 * The filters of a mix as a table, three lines to a filter: what to set, how to find it in clicks from the nearer
 * stop, how far it lies from what was asked. Where there is no room for that, the same a knob at a time.
 */
export const filterLines = (
  filters: readonly PlacedFilter[],
  labels: TypeLabels,
  columns: number,
): readonly string[] => {
  const slotColumns = fittingWidth(['slot', ...filters.map(({ slot }) => slot)], 4, 9);
  const values = [frequencyColumns, widthColumns, gainColumns];
  const filterColumns = widthBeside([slotColumns, ...values], columns);
  if (filterColumns >= leastFilterColumns) {
    return wideLines(filters, labels, [slotColumns, filterColumns, ...values]);
  }
  return [
    ...columnLines(['slot', 'filter'], [slotColumns, widthBeside([slotColumns], columns)]),
    ...filters.flatMap((placed, index) => [
      ...(index === 0 ? [] : ['']),
      ...narrowLines(placed, labels, slotColumns, columns),
    ]),
  ];
};
