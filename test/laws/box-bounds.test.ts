import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildSections } from '../../src/filters/build.js';
import type { Filter } from '../../src/filters/filter.js';
import { designNames, qMeanings, type Realisation } from '../../src/filters/realisation.js';
import { attenuationDbAt } from '../../src/filters/response.js';
import { boxBounds, type Extent, type Range } from '../../src/fitting/protect/box-bounds.js';
import { type Lattice, makeLattice } from '../../src/fitting/protect/lattice.js';
import type { Points } from '../../src/fitting/protect/points.js';
import { makeGrid } from '../../src/quantisers/grid.js';
import { hz } from '../../src/units/quantity.js';

const between = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const byRatio = (low: number, high: number) => between(Math.log(low), Math.log(high)).map(Math.exp);

const grid = (value: fc.Arbitrary<number>, most: number) =>
  fc.uniqueArray(value, { minLength: 1, maxLength: most }).map((values) => {
    const sorted = [...values].sort((a, b) => a - b);
    return makeGrid(sorted.length, (index) => sorted[index] as number);
  });

/** All frequencies below half of 44.1 kHz, most of them near the pilot. */
const centres = fc.oneof(between(15000, 21900), byRatio(1000, 21900));
const widths = { q: byRatio(0.1, 40), bandwidth: byRatio(0.02, 1.5) };
const gains = fc.oneof(between(-24, 0), fc.constant(0));

const lattices = (type: 'peaking' | 'notch', knob: 'q' | 'bandwidth'): fc.Arbitrary<Lattice> =>
  fc
    .record({ frequency: grid(centres, 9), width: grid(widths[knob], 6), gain: grid(gains, 6) })
    .map(({ frequency, width, gain }) => {
      const grids = { frequency, [knob]: width, ...(type === 'peaking' ? { gain } : {}) };
      const lattice = makeLattice(
        { slots: [], types: new Map() },
        { type, grids },
        { fromHz: 0, toHz: 30000, aboutHz: 19000, mostSteps: 100, mostSettings: 1000 },
      );
      if (!lattice) throw new Error('a lattice without settings');
      return lattice;
    });

const rangeIn = (count: number): fc.Arbitrary<Range> =>
  fc
    .tuple(fc.nat({ max: count - 1 }), fc.nat({ max: count - 1 }))
    .map(([a, b]) => [Math.min(a, b), Math.max(a, b)]);

const extents = (type: 'peaking' | 'notch', knob: 'q' | 'bandwidth'): fc.Arbitrary<Extent> =>
  lattices(type, knob).chain((lattice) =>
    fc.record({
      lattice: fc.constant(lattice),
      f: rangeIn(lattice.frequencies.length),
      w: rangeIn(lattice.widths.length),
      g: rangeIn(lattice.gains.length),
    }),
  );

const pointsAt = (realisation: Realisation): fc.Arbitrary<Points> =>
  fc
    .record({
      window: fc.array(between(18000, 20500), { minLength: 1, maxLength: 4 }),
      keep: fc.array(byRatio(80, 16000), { minLength: 1, maxLength: 4 }),
      rise: fc.array(byRatio(4000, 20000), { maxLength: 3 }),
    })
    .map(({ window, keep, rise }) => ({
      realisation,
      frequenciesHz: Float64Array.from([...window, ...keep, ...rise]),
      keepFrom: window.length,
      riseFrom: window.length + keep.length,
    }));

const indices = ([from, to]: Range): readonly number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** The cuts of a box, straight from its grids: widths from the widest on, gains from the shallowest on. */
const cutsIn = ({ lattice, f, w, g }: Extent): readonly Filter[] => {
  const { type, grids } = lattice.slotType;
  return indices(f).flatMap((atF) =>
    indices(w).flatMap((atW) =>
      indices(g).map((atG) => {
        const [frequency, width, gain] = [lattice.frequencies[atF], lattice.widths[atW], lattice.gains[atG]];
        if (frequency === undefined || width === undefined || gain === undefined)
          throw new Error('off the lattice');
        return {
          type,
          frequencyHz: grids.frequency.valueAt(frequency),
          ...(grids.q ? { q: grids.q.valueAt(width) } : {}),
          ...(grids.bandwidth ? { bandwidthOctaves: grids.bandwidth.valueAt(width) } : {}),
          ...(grids.gain ? { gainDb: grids.gain.valueAt(gain) } : {}),
        } as unknown as Filter;
      }),
    ),
  );
};

/** Rounding. */
const roundingDb = 1e-9;

/** Figures end at 200 dB, so that what bounds say beyond that is not looked at. */
const mostDb = 200;

const combinations = designNames.flatMap((design) =>
  qMeanings.flatMap((qMeaning) =>
    (['q', 'bandwidth'] as const).flatMap((knob) =>
      (['peaking', 'notch'] as const)
        .filter((type) => type === 'peaking' || qMeaning === 'cookbook')
        .map((type) => ({ design, qMeaning, knob, type })),
    ),
  ),
);

describe('bounds over a box of bells or notches', () => {
  it.each(combinations)(
    'hold for $design, Q read as $qMeaning, $knob knob, $type',
    ({ design, qMeaning, knob, type }) => {
      const rates = design === 'analogue' ? fc.constant(null) : fc.constantFrom(44100, 48000, 96000).map(hz);
      const realisations = rates.map((sampleRateHz) => ({ id: 'one', design, qMeaning, sampleRateHz }));
      fc.assert(
        fc.property(extents(type, knob), realisations.chain(pointsAt), (extent, points) => {
          const [bounds] = boxBounds(extent, [points]);
          for (const cut of cutsIn(extent)) {
            const sections = buildSections(cut, points.realisation);
            points.frequenciesHz.forEach((frequencyHz, i) => {
              const takenDb = attenuationDbAt(sections, hz(frequencyHz));
              const boundDb = Math.min(mostDb, bounds?.[i] as number);
              if (i >= points.keepFrom && i < points.riseFrom) {
                expect(takenDb).toBeGreaterThanOrEqual(boundDb - roundingDb);
              } else {
                expect(takenDb).toBeLessThanOrEqual(boundDb + roundingDb);
              }
            });
          }
        }),
        { numRuns: Number(process.env.RUNS ?? 100) },
      );
    },
  );
});
