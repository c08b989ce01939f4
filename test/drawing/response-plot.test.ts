import { describe, expect, it } from 'vitest';
import { plotLegend, responsePlotLines } from '../../src/drawing/response-plot.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { flat, guardAt, flatView as view } from './flat-view.js';

/** The close look: what stands right of the axis, and the rows of marks under it. */
const closeLook = (columns: number, shown = view) => {
  const lines = responsePlotLines(shown, columns);
  const from = lines.lastIndexOf('dB') + 1;
  const axis = lines.findIndex((line, index) => index > from && /^ +\+/.test(line));
  return {
    rows: lines.slice(from, axis).map((line) => line.slice(line.indexOf('|') + 1)),
    labels: lines[axis + 1] ?? '',
    places: (lines[axis + 2] ?? '').slice(8),
    named: (lines[axis + 3] ?? '').slice(8),
  };
};

/** Where a frequency stands among so many columns from 12 to 20 kHz, by ratio. */
const columnOf = (frequencyHz: number, width: number, toHz = 20_000): number =>
  Math.round((Math.log(frequencyHz / 12_000) / Math.log(toHz / 12_000)) * (width - 1));

describe('a response in characters', () => {
  it.each([40, 60, 80, 120])('fits %i columns, its legend too', (columns) => {
    const lines = [...responsePlotLines(view, columns), ...plotLegend([view], columns)];
    expect(Math.max(...lines.map(displayWidth))).toBeLessThanOrEqual(columns);
    expect(lines.join('')).toMatch(/^[ -~]*$/);
  });

  it.each([40, 80])(
    'loses no notch between two columns: at %i the set curve goes down at the pilot',
    (columns) => {
      const { rows } = closeLook(columns);
      const column = columnOf(19_000, columns - 10);
      const marks = rows.map((row) => row[column] ?? ' ');
      // From 0 dB to -40 dB; the line of what is asked at the pilot crosses it.
      expect(marks.join('').trim()).toMatch(/^\|*#+=#+\|*$/);
      expect(rows.filter((row) => row[column] === '#').length).toBeGreaterThan(8);
      expect(
        rows
          .map((row) => row[columnOf(16_000, columns - 10)])
          .join('')
          .trim(),
      ).toBe('#');
    },
  );

  it('marks where filters can stand and where one is set, the link and the pilot', () => {
    const { places, named } = closeLook(80);
    expect([...places].flatMap((mark, column) => (mark === ' ' ? [] : [[column, mark]]))).toEqual([
      [columnOf(18_000, 70), '^'],
      [columnOf(19_000, 70), '*'],
    ]);
    expect([...named].flatMap((mark, column) => (mark === ' ' ? [] : [[column, mark]]))).toEqual([
      [columnOf(15_000, 70), 'L'],
      [columnOf(19_000, 70), 'P'],
    ]);
  });

  it('puts each frequency told under its place', () => {
    const { labels } = closeLook(80);
    for (const kilohertz of [12, 13, 14, 15, 16, 17, 18, 19, 20]) {
      const middle = labels.indexOf(`${kilohertz}k`) + 1 - 8;
      expect(Math.abs(middle - columnOf(1000 * kilohertz, 70))).toBeLessThanOrEqual(1);
    }
  });

  it.each([
    // Pilots from 16 to 22 kHz, windows to 1 kHz: schemas/rig.schema.json. Where the look ends: its own definition.
    [16_000, 100, 20_000],
    [20_000, 100, 21_000],
    [21_000, 100, 22_000],
    [22_000, 1000, 24_000],
  ])(
    'follows a pilot at %i Hz, +-%i Hz, up to %i Hz, ticks apart at every width',
    (pilotHz, windowHz, toHz) => {
      for (const columns of [40, 60, 80, 120]) {
        const { rows, labels, named } = closeLook(columns, guardAt(pilotHz, windowHz));
        const width = columns - 10;
        expect(named[columnOf(pilotHz, width, toHz)]).toBe('P');
        // From one side of its window to the other, and something beside it.
        const top = rows[0] ?? '';
        expect([top.indexOf('|'), top.lastIndexOf('|')]).toEqual([
          columnOf(pilotHz - windowHz, width, toHz),
          columnOf(pilotHz + windowHz, width, toHz),
        ]);
        expect(labels.trim()).toMatch(/^\d\dk( +\d\dk){3,}$/);
      }
    },
  );

  it('has one panel, and nothing of a pilot, where there is none', () => {
    const lines = responsePlotLines({ ...view, guard: null }, 80);
    expect(lines.filter((line) => line === 'dB')).toHaveLength(1);
    expect(lines.join('')).not.toMatch(/[\^*PL=_]/);
    expect(plotLegend([{ ...view, guard: null }], 80)).toEqual(['#  set', '-  asked']);
  });

  it('tells each mark once, and only marks there are', () => {
    const told = plotLegend([view, { ...view, byHand: flat }], 80);
    expect(told.filter((line) => line.startsWith('h')).length).toBe(1);
    expect(new Set(told).size).toBe(told.length);
    expect(told.some((line) => line.startsWith(':'))).toBe(false);
  });
});
