import { describe, expect, it } from 'vitest';
import { plotLegend, responsePlotLines } from '../../src/drawing/response-plot.js';
import type { ResponseView } from '../../src/drawing/response-view.js';
import { displayWidth } from '../../src/layout/display-width.js';

/** A straight line in dB over frequency, so that every place follows by hand: 0 dB, but one point of -40 dB at 19 kHz. */
const frequenciesHz = Array.from({ length: 21_981 }, (_, index) => index + 20);
const flat = frequenciesHz.map(() => 0);
const notched = frequenciesHz.map((frequencyHz) => (frequencyHz === 19_000 ? -40 : 0));

const view: ResponseView = {
  title: '',
  description: '',
  frequenciesHz,
  asked: flat,
  set: { levelsDb: notched, lowestDb: notched, highestDb: notched },
  byHand: null,
  ways: { count: 1, drawn: 'one' },
  guard: {
    pilotHz: 19_000,
    windowHz: 100,
    attenuationAtLeastDb: 20,
    keepLowHz: 80,
    keepHighHz: 12_000,
    keepLossAtMostDb: 3,
    linkEndsHz: 15_000,
  },
  places: { count: 2, frequenciesHz: [18_000, 19_000], setHz: [19_000] },
};

/** The close look: what stands right of the axis, and the rows of marks under it. */
const closeLook = (columns: number) => {
  const lines = responsePlotLines(view, columns);
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
const columnOf = (frequencyHz: number, width: number): number =>
  Math.round((Math.log(frequencyHz / 12_000) / Math.log(20_000 / 12_000)) * (width - 1));

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

  it('tells each mark once, and only marks there are', () => {
    const told = plotLegend([view, { ...view, byHand: flat }], 80);
    expect(told.filter((line) => line.startsWith('h')).length).toBe(1);
    expect(new Set(told).size).toBe(told.length);
    expect(told.some((line) => line.startsWith(':'))).toBe(false);
  });
});
