import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildChain } from '../../src/filters/build.js';
import { highestDb, lowestDb } from '../../src/filters/extremes.js';
import type { Filter } from '../../src/filters/filter.js';
import { guardFigures } from '../../src/guard/guard-figures.js';
import { guardScope } from '../../src/guard/guard-scope.js';
import { hz } from '../../src/units/quantity.js';

/** Against SciPy at every 0.01 Hz of a band: see make-extremes-table.py, and the table's first line for the versions. */
interface Row {
  readonly name: string;
  readonly filters: readonly Filter[];
  readonly sampleRateHz: number | null;
  readonly mostDb: number;
  readonly leastInKeepDb: number;
  readonly mostInWindowDb: number;
  readonly mostAtPointsDb: number;
}

const [, ...rows] = readFileSync(new URL('./extremes-table.jsonl', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .map((line) => JSON.parse(line) as Row);

/** SciPy multiplies out its coefficients, which costs narrow filters at low frequencies some digits. */
const digits = 6;

describe('extremes over bands', () => {
  it('has cases, and some whose peak points 24 an octave apart would miss', () => {
    expect(rows).toHaveLength(10);
    const missed = rows.filter(({ mostDb, mostAtPointsDb }) => mostDb > 1.5 && mostAtPointsDb < 0.3);
    expect(missed.length).toBeGreaterThan(2);
  });

  it.each(rows)('$name', ({ filters, sampleRateHz, mostDb, leastInKeepDb, mostInWindowDb }) => {
    const rateHz = sampleRateHz === null ? null : hz(sampleRateHz);
    const chain = buildChain(filters, {
      id: 'told',
      design: rateHz === null ? 'analogue' : 'cookbook',
      qMeaning: 'cookbook',
      sampleRateHz: rateHz,
    });
    expect(highestDb(chain, { fromHz: 20, toHz: 20000 })).toBeCloseTo(mostDb, digits);
    expect(lowestDb(chain, { fromHz: 80, toHz: 12000 })).toBeCloseTo(leastInKeepDb, digits);
    expect(highestDb(chain, { fromHz: 18900, toHz: 19100 })).toBeCloseTo(mostInWindowDb, digits);

    const figures = guardFigures(chain, guardScope(hz(19000)), rateHz);
    expect(figures.riseDb).toBeCloseTo(mostDb, digits);
    expect(figures.keepLossDb).toBeCloseTo(-leastInKeepDb, digits);
    expect(figures.pilotAttenuationDb).toBeCloseTo(-mostInWindowDb, digits);
  });
});
