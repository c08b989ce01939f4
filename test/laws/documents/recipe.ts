import fc from 'fast-check';
import { intent } from './intents.js';
import { frequencyHz, gainDb, id, type Plain, q, record, slotId, some, text } from './plain.js';
import { outputsOf } from './rig.js';
import { allTypes, evidence, number } from './target.js';

const position = fc.tuple(fc.nat(500), fc.nat(500)).chain(([index, above]) =>
  record({
    index: fc.constant(index),
    of: fc.constant(index + above + 1),
    display: text.map((each) => [...each].slice(0, 20).join('')),
    fromBottom: fc.constant(index),
    fromTop: fc.constant(above),
  }),
);
const placed = record({
  slot: slotId,
  role: id,
  type: fc.constantFrom(...allTypes),
  asked: intent,
  set: record({ frequencyHz, gainDb }, { q, family: fc.constantFrom('butterworth', 'linkwitz-riley') }),
  steps: record({ frequency: position }, { gain: position }),
  error: record(
    { frequencyHz: number, frequencyCents: number },
    { qRatio: number, gainDb: number, slopeDbPerOctave: number },
  ),
});
const dbRange = fc.oneof(record({ leastDb: number, mostDb: number }), fc.constant(null));
const figures = {
  pilotAttenuationDb: number,
  keepLossDb: number,
  riseDb: number,
  guardBandDb: number,
  pilotToProgrammeDb: dbRange,
};
const guard = record({
  pilotHz: frequencyHz,
  windowHz: number,
  keepLowHz: frequencyHz,
  keepHighHz: frequencyHz,
  preEmphasisMicroseconds: some(number, 3, 1),
  lineUpDbfs: some(number, 3, 1),
  overDeviatingLineUpsDbfs: some(number, 3),
  programme: record({
    kind: fc.constant('pink'),
    levelDbfs: number,
    lowHz: frequencyHz,
    highHz: frequencyHz,
    image: fc.constant('identical'),
  }),
  unfilteredPilotToProgrammeDb: dbRange,
  limits: record({
    pilotAttenuationAtLeastDb: number,
    keepLossAtMostDb: number,
    keepLossAsAskedDb: fc.oneof(number, fc.constant(null)),
    riseAtMostDb: number,
  }),
  byRealisation: some(record({ id, ...figures }), 3, 1),
  worst: record(figures),
  verdict: fc.constantFrom('met', 'falls-short'),
});
const told = record(
  { code: id, path: fc.oneof(text, fc.constant('')), message: text },
  { source: text, line: fc.integer({ min: 1, max: 1e9 }), column: fc.integer({ min: 1, max: 1e9 }) },
);

const recipeMix = (index: number): fc.Arbitrary<Plain> =>
  record({
    name: text,
    outputs: fc.oneof(outputsOf(index), fc.constant([])),
    system: fc.oneof(id, fc.constant(null)),
    link: fc.constantFrom('fm-stereo', 'digital', 'wired', null),
    treatment: fc.constantFrom('protect', 'leave-alone', 'as-asked'),
    reason: text,
    filters: fc.uniqueArray(placed, { maxLength: 2, selector: (each) => each.slot }),
    guard: fc.oneof(guard, fc.constant(null)),
    nearest: fc.oneof(record({ filters: some(placed, 2), worst: record(figures) }), fc.constant(null)),
    alternative: fc.oneof(
      record({
        kind: fc.constantFrom('gentler', 'stronger'),
        withinDb: number,
        isHadByLimit: fc.boolean(),
        filters: some(placed, 2),
        worst: record(figures),
      }),
      fc.constant(null),
    ),
    missing: some(
      record({
        role: id,
        type: fc.constantFrom(...allTypes),
        why: fc.constantFrom('no-place', 'left-out'),
      }),
      2,
    ),
  });

export const recipe: fc.Arbitrary<Plain> = record({
  format: fc.constant('bandwright-recipe/1'),
  rig: record({ title: text }),
  target: record({ id, title: text, stereo: fc.constantFrom('legs-share', 'legs-separate'), evidence }),
  fit: fc.constantFrom('nearest', 'match', 'protect'),
  assumptions: some(told, 2),
  mixes: fc
    .nat(3)
    .chain((count) => fc.tuple(...Array.from({ length: count }, (_, index) => recipeMix(index)))),
  problems: some(told, 2),
});
