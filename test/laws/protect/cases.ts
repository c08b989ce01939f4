import fc from 'fast-check';
import type { CutFamily, FilterType } from '../../../src/filters/filter.js';
import { designNames, qMeanings, type Realisation } from '../../../src/filters/realisation.js';
import type { FitContext } from '../../../src/fitting/fit.js';
import { guardTask } from '../../../src/fitting/guard-task.js';
import { type GuardScope, guardScope } from '../../../src/guard/guard-scope.js';
import type { Desk, DeskSlot } from '../../../src/model/desk.js';
import type { Intent } from '../../../src/model/intent.js';
import { makeDesk } from '../../../src/model/make-desk.js';
import type { SlotType, Target } from '../../../src/model/target.js';
import type { QuantiserSpec } from '../../../src/quantisers/quantiser.js';
import { db, dbPerOctave, hz, q } from '../../../src/units/quantity.js';

/** A small desk and what is asked of it. */
export interface Case {
  readonly target: Target;
  readonly intents: readonly Intent[];
  readonly scope: GuardScope;
  readonly context: FitContext;
}

type Types = Readonly<Partial<Record<FilterType, SlotType>>>;

/** The types of a slot, with the grids they name. */
interface SlotKind {
  readonly types: Types;
  readonly quantisers: Readonly<Record<string, QuantiserSpec>>;
}

/** A knob of few positions, or one that does not move; the prefix keeps the grids of one kind apart from another's. */
interface KnobKind {
  readonly reference: string | number;
  readonly quantisers: Readonly<Record<string, QuantiserSpec>>;
}

const knob = (name: string, value: fc.Arbitrary<number>, mostSteps: number): fc.Arbitrary<KnobKind> =>
  fc.uniqueArray(value, { minLength: 1, maxLength: mostSteps }).map((values) =>
    values.length === 1 && values[0] !== undefined
      ? { reference: values[0], quantisers: {} }
      : {
          reference: name,
          quantisers: { [name]: { kind: 'table', values: [...values].sort((a, b) => a - b) } },
        },
  );

const tenths = (from: number, to: number) =>
  fc.integer({ min: Math.round(10 * from), max: Math.round(10 * to) }).map((value) => value / 10);
const hundreds = (from: number, to: number) =>
  fc.integer({ min: from / 100, max: to / 100 }).map((value) => value * 100);

const bellHz = fc.oneof(
  { weight: 5, arbitrary: hundreds(17500, 20500) },
  { weight: 2, arbitrary: hundreds(9000, 21500) },
);
const cutHz = hundreds(10000, 21000);
const gainDb = fc.oneof(
  { weight: 5, arbitrary: tenths(-18, -1) },
  { weight: 1, arbitrary: fc.constantFrom(0, 3) },
);
const bellQ = fc.oneof(tenths(0.4, 4), tenths(4, 16));
const bandwidth = fc.oneof(tenths(0.1, 0.6), tenths(0.1, 2));
const cutQ = fc.oneof(fc.constantFrom(0.5, 0.7, Math.SQRT1_2), tenths(0.5, 2));

const joinKnobs = <Knobs extends Readonly<Record<string, KnobKind>>>(knobs: Knobs): KnobKind['quantisers'] =>
  Object.assign({}, ...Object.values(knobs).map(({ quantisers }) => quantisers));

const slotKind = (
  type: FilterType,
  knobs: Readonly<Record<string, fc.Arbitrary<KnobKind>>>,
  extra: { readonly family?: CutFamily } = {},
): fc.Arbitrary<SlotKind> =>
  fc.record(knobs).map((made) => ({
    types: {
      [type]: {
        ...Object.fromEntries(Object.entries(made).map(([name, { reference }]) => [name, reference])),
        ...extra,
      } as unknown as SlotType,
    },
    quantisers: joinKnobs(made),
  }));

const bell = (id: string) => {
  const rest = { frequency: knob(`f${id}`, bellHz, 5), gain: knob(`g${id}`, gainDb, 4) };
  return fc.oneof(
    { weight: 2, arbitrary: slotKind('peaking', { ...rest, q: knob(`q${id}`, bellQ, 3) }) },
    { weight: 1, arbitrary: slotKind('peaking', { ...rest, bandwidth: knob(`b${id}`, bandwidth, 3) }) },
  );
};

const notch = (id: string) => {
  const frequency = knob(`nf${id}`, bellHz, 6);
  return fc.oneof(
    { weight: 2, arbitrary: slotKind('notch', { frequency, q: knob(`nq${id}`, bellQ, 3) }) },
    { weight: 1, arbitrary: slotKind('notch', { frequency, bandwidth: knob(`nb${id}`, bandwidth, 3) }) },
  );
};

const cut = (id: string) => {
  const frequency = knob(`cf${id}`, cutHz, 6);
  const slope = (family: CutFamily, slopes: readonly number[]) =>
    slotKind('lowpass', { frequency, slope: knob(`cs${id}`, fc.constantFrom(...slopes), 2) }, { family });
  return fc.oneof(
    slope('butterworth', [6, 12, 18, 24, 48]),
    slope('linkwitz-riley', [12, 24]),
    slotKind('lowpass', { frequency, q: knob(`cq${id}`, cutQ, 3) }),
  );
};

const shelf = (id: string) => {
  const knobs = { frequency: knob(`sf${id}`, cutHz, 4), gain: knob(`sg${id}`, gainDb, 3) };
  return fc.oneof(
    slotKind('highshelf', knobs),
    slotKind('highshelf', { ...knobs, q: knob(`sq${id}`, cutQ, 2) }),
  );
};

const lowCut = fc
  .constantFrom(40, 80)
  .map((frequency): SlotKind => ({ types: { highpass: { frequency, slope: 12 } }, quantisers: {} }));

const both = (first: fc.Arbitrary<SlotKind>, second: fc.Arbitrary<SlotKind>): fc.Arbitrary<SlotKind> =>
  fc.tuple(first, second).map(([a, b]) => ({
    types: { ...a.types, ...b.types },
    quantisers: { ...a.quantisers, ...b.quantisers },
  }));

const slotKinds = (id: string): fc.Arbitrary<SlotKind> =>
  fc.oneof(
    { weight: 4, arbitrary: bell(id) },
    { weight: 3, arbitrary: cut(id) },
    { weight: 1, arbitrary: notch(id) },
    { weight: 2, arbitrary: shelf(id) },
    { weight: 1, arbitrary: lowCut },
    { weight: 2, arbitrary: both(bell(id), cut(id)) },
    { weight: 1, arbitrary: both(bell(id), notch(id)) },
    { weight: 1, arbitrary: both(bell(id), shelf(id)) },
    { weight: 1, arbitrary: both(lowCut, both(bell(id), cut(id))) },
  );

const realisation: fc.Arbitrary<Realisation> = fc
  .record({
    design: fc.constantFrom(...designNames),
    qMeaning: fc.constantFrom(...qMeanings),
    rateHz: fc.constantFrom(44100, 48000, 96000),
  })
  .map(({ design, qMeaning, rateHz }) => ({
    id: `${design} ${qMeaning} ${rateHz}`,
    design,
    qMeaning,
    sampleRateHz: design === 'analogue' ? null : hz(rateHz),
  }));

const targets: fc.Arbitrary<Target> = fc
  .record({
    kinds: fc.tuple(slotKinds('a'), slotKinds('b'), slotKinds('c')),
    counts: fc.constantFrom(
      [1, 0, 0],
      [2, 0, 0],
      [1, 1, 0],
      [2, 1, 0],
      [1, 2, 0],
      [3, 0, 0],
      [1, 1, 1],
      [2, 1, 1],
    ),
    realisations: fc.uniqueArray(realisation, { minLength: 1, maxLength: 3, selector: ({ id }) => id }),
  })
  .map(({ kinds, counts, realisations }) => ({
    format: 'bandwright-target/1',
    id: 'small',
    title: 'A small desk',
    provenance: 'invented',
    outputs: { count: 2, stereo: 'legs-share' },
    quantisers: Object.assign({}, ...kinds.map(({ quantisers }) => quantisers)),
    slots: kinds.flatMap(({ types }, kind) =>
      Array.from({ length: counts[kind] ?? 0 }, (_, i) => ({ id: `${'abc'[kind]}${i + 1}`, types })),
    ),
    realisations,
    display: {},
    evidence: { grid: 'untested', response: 'untested', push: 'untested' },
  }));

/** Derived filters may move; what a person wrote may not, unless it says so. */
const low: Intent = {
  role: 'low-cut',
  type: 'highpass',
  frequencyHz: hz(40),
  slopeDbPerOctave: dbPerOctave(12),
  mayMove: true,
};
const pilotBell: Intent = {
  role: 'pilot-cut',
  type: 'peaking',
  frequencyHz: hz(19000),
  q: q(10),
  gainDb: db(-15),
  mayMove: true,
};
const pilotNotch: Intent = {
  role: 'pilot-cut',
  type: 'notch',
  frequencyHz: hz(19000),
  q: q(10),
  mayMove: true,
};
const high: Intent = {
  role: 'high-cut',
  type: 'lowpass',
  frequencyHz: hz(15000),
  slopeDbPerOctave: dbPerOctave(12),
  mayMove: true,
};
const own = (gain: number, frequencyHz: number): Intent => ({
  role: 'own',
  type: 'peaking',
  frequencyHz: hz(frequencyHz),
  q: q(2),
  gainDb: db(gain),
});
const held = ({ mayMove: _, ...intent }: Intent): Intent => intent;

const wishes: fc.Arbitrary<readonly Intent[]> = fc.oneof(
  { weight: 12, arbitrary: fc.constant([low, high, pilotBell]) },
  { weight: 2, arbitrary: fc.constant([low, high, pilotNotch]) },
  { weight: 1, arbitrary: fc.constant([low, high]) },
  { weight: 1, arbitrary: fc.constant([pilotBell]) },
  { weight: 1, arbitrary: fc.constant([low, high, held(pilotBell)]) },
  { weight: 1, arbitrary: fc.constant([low, held(high), pilotBell]) },
  {
    weight: 3,
    arbitrary: fc
      .constantFrom([-3, 16500], [2, 16500], [-5, 9000])
      .map(([gain = 0, frequencyHz = 0]) => [low, high, pilotBell, own(gain, frequencyHz)]),
  },
);

const limits = fc.oneof(
  { weight: 2, arbitrary: fc.constant({}) },
  {
    weight: 1,
    arbitrary: tenths(0.3, 4).map((keepLossToReachDb) => ({ keepLossToReachDb: db(keepLossToReachDb) })),
  },
  {
    weight: 1,
    arbitrary: tenths(0.3, 3).map((keepLossAtMostDb) => ({ keepLossAtMostDb: db(keepLossAtMostDb) })),
  },
);

export const cases: fc.Arbitrary<Case> = fc
  .record({
    target: targets,
    intents: wishes,
    windowHz: fc.oneof(
      { weight: 1, arbitrary: fc.constant(0) },
      { weight: 4, arbitrary: fc.integer({ min: 1, max: 150 }) },
    ),
    limits,
    askedDb: fc.constantFrom(4, 8, 12, 15.6, 22),
    keepHighHz: hundreds(8000, 14000),
    spareSlots: fc.constantFrom(0, 0, 0, 1, 2),
  })
  .map(({ target, intents, windowHz, limits: stated, askedDb, keepHighHz, spareSlots }) => {
    const desk = makeDesk(target);
    if (!desk.ok) throw new Error(JSON.stringify(desk.error));
    const scope = guardScope(hz(19000), {
      windowHz: hz(windowHz),
      ...stated,
      keepHighHz: hz(keepHighHz),
      pilotAttenuationAtLeastDb: db(askedDb),
      preEmphasisMicroseconds: 50,
    });
    return caseOf({ target, intents, desk: desk.value, scope, spareSlots });
  });

/** A case from its parts; all slots of the desk are free unless told. */
export const caseOf = ({
  target,
  intents,
  desk,
  scope,
  spareSlots,
  slots = desk.slots,
}: Pick<Case, 'target' | 'intents' | 'scope'> & {
  readonly desk: Desk;
  readonly spareSlots: number;
  readonly slots?: readonly DeskSlot[];
}): Case => {
  const guard = guardTask(intents, target.realisations, scope);
  return { target, intents, scope, context: { desk, slots, guard, spareSlots } };
};

/** The same with another scope: limits, or what is asked. */
export const withScope = (each: Case, change: Partial<GuardScope>): Case =>
  caseOf({
    ...each,
    scope: { ...each.scope, ...change },
    desk: each.context.desk,
    slots: each.context.slots,
    spareSlots: each.context.spareSlots,
  });

/** The same with other slots free. */
export const withSlots = (each: Case, slots: readonly DeskSlot[]): Case =>
  caseOf({ ...each, desk: each.context.desk, spareSlots: each.context.spareSlots, slots });
