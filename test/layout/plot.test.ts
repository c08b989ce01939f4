import { describe, expect, it } from 'vitest';
import { plotLines } from '../../src/layout/plot.js';

const titles = { x: 'lost, dB', y: 'down, dB' };
const corner = { mark: 'o', points: [{ x: 0, y: 0 }] };
const far = { mark: 'N', points: [{ x: 6, y: 30 }] };

/** Where a mark stands: columns from the axis, rows up from the bottom row. */
const placeOf = (mark: string, lines: readonly string[]) => {
  const canvas = lines.filter((line) => line.includes('|'));
  const row = canvas.findIndex((line) => line.split('|')[1]?.includes(mark));
  return { column: canvas[row]?.split('|')[1]?.indexOf(mark), up: canvas.length - 1 - row };
};

describe('a plot', () => {
  it('puts the origin into the corner and the end of the scales into the other', () => {
    const lines = plotLines([corner, far], titles);
    expect(placeOf('o', lines)).toEqual({ column: 0, up: 0 });
    expect(placeOf('N', lines)).toEqual({ column: 60, up: 15 });
  });

  it('puts what lies halfway halfway', () => {
    const middle = { mark: 'm', points: [{ x: 3, y: 10 }] };
    // A third of 15 rows, half of 60 columns.
    expect(placeOf('m', plotLines([corner, far, middle], titles))).toEqual({ column: 30, up: 5 });
  });

  it('labels both axes at round numbers, names them, and is 60 to 78 columns wide', () => {
    const lines = plotLines([corner, far], titles);
    expect(lines[0]).toBe('down, dB');
    expect(lines.at(-1)?.trim()).toBe('lost, dB');
    expect(lines.at(-2)?.trim().split(/ +/)).toEqual(['0', '1', '2', '3', '4', '5', '6']);
    const up = lines.flatMap((line) => /^ *(\S+) \|/.exec(line)?.[1] ?? []);
    expect(up).toEqual(['30', '20', '10', '0']);
    const widest = Math.max(...lines.map(({ length }) => length));
    expect(widest).toBeGreaterThanOrEqual(60);
    expect(widest).toBeLessThanOrEqual(78);
    expect(lines.join('')).toMatch(/^[ -~]*$/);
    expect(lines.filter((line) => line !== line.trimEnd())).toEqual([]);
  });

  it('sets every label of the lower axis under its tick', () => {
    const lines = plotLines([corner, far], titles);
    const [ticks = '', labels = ''] = lines.slice(-3, -1);
    const last = labels.trimEnd().length - 1;
    expect(ticks[last]).toBe('+');
    expect(ticks.length - 1).toBe(last);
  });

  it('reaches below zero where something lies there', () => {
    const below = { mark: 'b', points: [{ x: 1, y: -4 }] };
    const lines = plotLines([{ mark: 'o', points: [{ x: 0, y: 6 }] }, below], titles);
    expect(placeOf('b', lines).up).toBeLessThan(placeOf('o', lines).up);
    expect(lines.join('\n')).toMatch(/^ +0 \|/m);
    expect(lines.join('\n')).not.toMatch(/-0\b/);
  });

  it('has scales where everything is nothing', () => {
    const lines = plotLines([corner], titles);
    expect(placeOf('o', lines)).toEqual({ column: 0, up: 0 });
    expect(lines.join('\n')).not.toMatch(/NaN|Infinity/);
  });

  it('leads a stepped series on at the height of each point, and shows the later of two marks on one place', () => {
    const stepped = {
      mark: 'o',
      stepped: true,
      points: [
        { x: 0, y: 10 },
        { x: 3, y: 20 },
        { x: 6, y: 30 },
      ],
    };
    const over = { mark: 'N', points: [{ x: 3, y: 20 }] };
    const rows = plotLines([stepped, over], titles)
      .filter((line) => line.includes('|'))
      .map((line) => line.split('|')[1] ?? '');
    expect(rows[10]).toBe(`o${'.'.repeat(29)}`);
    expect(rows[5]).toBe(`${' '.repeat(30)}N${'.'.repeat(29)}`);
    expect(rows[0]).toBe(`${' '.repeat(60)}o`);
  });

  it.each([40, 60, 71, 120])(
    'is no wider than %i columns, and still has its corners and round numbers',
    (columns) => {
      const lines = plotLines([corner, far], titles, [], columns);
      expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(columns);
      expect(placeOf('o', lines)).toEqual({ column: 0, up: 0 });
      expect(placeOf('N', lines)).toEqual({ column: Math.min(columns, 71) - 11, up: 15 });
      expect(lines.at(-2)?.trim().split(/ +/)).toEqual(
        columns < 55 ? ['0', '2', '4', '6'] : ['0', '1', '2', '3', '4', '5', '6'],
      );
    },
  );
});
