import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildSections } from '../../src/filters/build.js';
import type { CutFamily, Filter, FilterType } from '../../src/filters/filter.js';
import {
  bandwidthMeanings,
  designNames,
  qMeanings,
  type Realisation,
} from '../../src/filters/realisation.js';
import { attenuationDbAt } from '../../src/filters/response.js';
import { familySlopes } from '../../src/filters/slopes.js';
import { boxBounds } from '../../src/fitting/protect/bounds/box.js';
import type { Extent, Range } from '../../src/fitting/protect/bounds/extent.js';
import { filterAt, type Lattice, makeLattice } from '../../src/fitting/protect/space/lattice.js';
import type { Points } from '../../src/fitting/protect/space/points.js';
import { makeGrid } from '../../src/quantisers/grid.js';
import type { Quantiser } from '../../src/quantisers/quantiser.js';
import { hz } from '../../src/units/quantity.js';

const between = (low: number, high: number) => fc.double({ min: low, max: high, noNaN: true });
const byRatio = (low: number, high: number) => between(Math.log(low), Math.log(high)).map(Math.exp);

const coarse = (value: fc.Arbitrary<number>, most: number): fc.Arbitrary<Quantiser> =>
  fc.uniqueArray(value, { minLength: 1, maxLength: most }).map((values) => {
    const sorted = [...values].sort((a, b) => a - b);
    return makeGrid(sorted.length, (index) => sorted[index] as number);
  });

/** A knob of very many steps, evenly apart. */
const fine = (low: number, high: number): fc.Arbitrary<Quantiser> =>
  fc
    .integer({ min: 500, max: 500_000 })
    .map((count) => makeGrid(count, (index) => low + ((high - low) * index) / (count - 1)));

const either = (value: fc.Arbitrary<number>, most: number, low: number, high: number) =>
  fc.oneof({ weight: 3, arbitrary: coarse(value, most) }, { weight: 1, arbitrary: fine(low, high) });

/** Frequencies below half of 44.1 kHz, a third of an octave round a pilot or a high cut, or anywhere. */
const centres = fc.oneof(between(15000, 21900), byRatio(1000, 21900));
const frequency = either(centres, 9, 14000, 21900);
const cutFrequency = either(byRatio(9000, 21900), 9, 11900, 18900);
const gain = either(between(-24, -0.05), 6, -24, -0.05);

const slopes = (family: CutFamily): fc.Arbitrary<Quantiser> =>
  fc
    .subarray([...familySlopes[family]], { minLength: 1 })
    .map((values) => makeGrid(values.length, (i) => values[i] as number));

interface Kind {
  readonly name: string;
  readonly type: FilterType;
  readonly grids: Readonly<Record<string, fc.Arbitrary<Quantiser>>>;
  readonly family?: CutFamily;
}

const q = either(byRatio(0.1, 40), 6, 0.1, 40);
const bandwidth = either(byRatio(0.02, 1.5), 6, 0.02, 1.5);

const bells: readonly Kind[] = [
  { name: 'bell, Q knob', type: 'peaking', grids: { frequency, q, gain } },
  { name: 'bell, bandwidth knob', type: 'peaking', grids: { frequency, bandwidth, gain } },
];
const others: readonly Kind[] = [
  { name: 'notch, Q knob', type: 'notch', grids: { frequency, q } },
  { name: 'notch, bandwidth knob', type: 'notch', grids: { frequency, bandwidth } },
  ...(['butterworth', 'linkwitz-riley'] as const).map(
    (family): Kind => ({
      name: `high cut, ${family}`,
      type: 'lowpass',
      grids: { frequency: cutFrequency, slope: slopes(family) },
      family,
    }),
  ),
  {
    name: 'high cut, Q knob',
    type: 'lowpass',
    grids: { frequency: cutFrequency, q: either(byRatio(0.3, 8), 6, 0.3, 4) },
  },
  { name: 'high shelf', type: 'highshelf', grids: { frequency: cutFrequency, gain } },
  {
    name: 'high shelf, Q knob',
    type: 'highshelf',
    grids: { frequency: cutFrequency, gain, q: either(byRatio(0.2, 2), 6, 0.2, 2) },
  },
];

const latticesOf = ({ type, grids, family }: Kind): fc.Arbitrary<Lattice> =>
  fc.record(grids).map((made) => {
    const slotType = { type, grids: made as Lattice['slotType']['grids'], ...(family ? { family } : {}) };
    const lattice = makeLattice({ slots: [], types: new Map() }, slotType, 0, 30000);
    if (!lattice) throw new Error('a lattice without settings');
    return lattice;
  });

const rangeIn = (count: number): fc.Arbitrary<Range> =>
  fc
    .tuple(fc.nat({ max: count - 1 }), fc.nat({ max: count - 1 }))
    .map(([a, b]): Range => [Math.min(a, b), Math.max(a, b)])
    .chain((all) =>
      // Small boxes, too, on knobs of many steps.
      fc.constantFrom(all, [all[0], Math.min(all[1], all[0] + 40)] as const),
    );

const extentsOf = (kind: Kind): fc.Arbitrary<Extent> =>
  latticesOf(kind).chain((lattice) =>
    fc.record({
      lattice: fc.constant(lattice),
      f: rangeIn(lattice.frequency.count),
      w: rangeIn(lattice.width.count),
      g: rangeIn(lattice.gain.count),
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

/** All indices of a short range; of a long one its ends and some between. */
const some = ([from, to]: Range, most: number): readonly number[] => {
  const count = Math.min(to - from + 1, most);
  return [
    ...new Set(
      Array.from({ length: count }, (_, i) => from + Math.round((i * (to - from)) / Math.max(1, count - 1))),
    ),
  ];
};

const filtersIn = ({ lattice, f, w, g }: Extent): readonly Filter[] =>
  some(f, 11).flatMap((atF) =>
    some(w, 8).flatMap((atW) => some(g, 6).map((atG) => filterAt(lattice, atF, atW, atG))),
  );

/** Rounding. */
const roundingDb = 1e-9;

/** Figures end at 200 dB, so that what bounds say beyond that is not looked at. */
const mostDb = 200;

const combinations = designNames.flatMap((design) => [
  ...bells.flatMap((kind) =>
    qMeanings.flatMap((qMeaning) =>
      bandwidthMeanings.map((bandwidthMeaning) => ({ design, qMeaning, bandwidthMeaning, kind })),
    ),
  ),
  ...others.map((kind) => ({
    design,
    qMeaning: 'cookbook' as const,
    bandwidthMeaning: 'analogue' as const,
    kind,
  })),
]);

describe('bounds over a box of filters', () => {
  it.each(combinations)(
    'hold for $kind.name, $design, Q read as $qMeaning, bandwidth as $bandwidthMeaning',
    ({ design, qMeaning, bandwidthMeaning, kind }) => {
      const rates = design === 'analogue' ? fc.constant(null) : fc.constantFrom(44100, 48000, 96000).map(hz);
      const realisations = rates.map((sampleRateHz) => ({
        id: 'one',
        design,
        qMeaning,
        bandwidthMeaning,
        sampleRateHz,
      }));
      fc.assert(
        fc.property(extentsOf(kind), realisations.chain(pointsAt), (extent, points) => {
          const [bounds] = boxBounds(extent, [points]);
          for (const filter of filtersIn(extent)) {
            const sections = buildSections(filter, points.realisation);
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
        { numRuns: Number(process.env.RUNS ?? 20) },
      );
    },
  );
});
