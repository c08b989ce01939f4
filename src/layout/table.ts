import Table from 'cli-table3';

const bare = {
  top: '',
  'top-mid': '',
  'top-left': '',
  'top-right': '',
  bottom: '',
  'bottom-mid': '',
  'bottom-left': '',
  'bottom-right': '',
  left: '',
  'left-mid': '',
  mid: '',
  'mid-mid': '',
  right: '',
  'right-mid': '',
  middle: '  ',
};

/** Rows of cells as aligned lines without borders; `right` names the columns aligned to the right. */
export const tableLines = (
  rows: readonly (readonly string[])[],
  right: readonly number[] = [],
): readonly string[] => {
  const table = new Table({
    chars: bare,
    style: { 'padding-left': 0, 'padding-right': 0, head: [], border: [] },
    colAligns: (rows[0] ?? []).map((_, column) => (right.includes(column) ? 'right' : 'left')),
  });
  table.push(...rows.map((row) => [...row]));
  return table
    .toString()
    .split('\n')
    .map((line) => line.trimEnd());
};
