import { describe, expect, it } from 'vitest';
import { learnGrid } from '../../src/learning/learn-grid.js';
import { parseReadings } from '../../src/learning/parse-readings.js';

const learned = (text: string) => {
  const readings = parseReadings(text, 'frequency');
  if (!readings.ok) throw new Error(readings.error);
  return learnGrid(readings.value).candidates[0]?.spec;
};

describe('three consecutive published values name their series first', () => {
  /** ISO 266:1997, table 1: nominal frequencies of third octaves, from memory. They are R10 of ISO 3. */
  it.each([
    '800 1000 1250',
    '16k 20k 25k',
    '31.5 40 50',
    '63 80 100',
    '1.6k 2k 2.5k',
    '100 125 160',
    '5k 6.3k 8k',
  ])('ISO 266: %s', (text) => {
    expect(learned(text)).toMatchObject({ kind: 'preferred-numbers', series: 'R10' });
  });

  /** ISO 3:1973, column R40, from memory. */
  it.each([
    '1000 1060 1120',
    '1.12k 1.18k 1.25k',
    '300 315 335',
    '8.5k 9k 9.5k',
    '475 500 530',
    '19k 20k 21.2k',
  ])('ISO 3, R40: %s', (text) => {
    expect(learned(text)).toMatchObject({ kind: 'preferred-numbers', series: 'R40' });
  });

  /**
   * IEC 61260-1:2014, annex, exact mid-band frequencies to five digits, from memory: 10^(3 + n/10) for thirds, and
   * 10^(3 + 3n/10) for octaves (clause 5.4).
   */
  it.each([
    ['794.33 1000.0 1258.9', 3],
    ['1258.9 1584.9 1995.3', 3],
    ['7.943k 10.00k 12.59k', 3],
    ['15.849k 19.953k 25.119k', 3],
    ['501.19 1000.0 1995.3', 1],
    ['3.981k 7.943k 15.849k', 1],
  ])('IEC 61260-1: %s', (text, fraction) => {
    expect(learned(text)).toMatchObject({ kind: 'octave-fraction', fraction });
  });
});
