import fc from 'fast-check';

/**
 * Documents of every kind that fit their schemas and break no rule, with the nastiest text their fields
 * allow. Plain data: units are of no matter to a file.
 */
type Plain = Readonly<Record<string, unknown>>;

/** What markup, terminals, spreadsheets, JavaScript and editors make something of. */
const nasty = [
  '&',
  '<',
  '>',
  '"',
  "'",
  '&amp;',
  '&#10;',
  '&lt;',
  ']]>',
  '<!--',
  '-->',
  '<![CDATA[',
  '<?xml?>',
  '<!DOCTYPE a>',
  '  ',
  ' ',
  '\u00a0',
  '\u2003',
  '\ufeff',
  '\u200d',
  '\u0301',
  'é',
  'ß',
  'ı',
  '\u05d0',
  '\u{1f3b8}',
  '\u{10fffd}',
  '\ufffd',
  '__proto__',
  'constructor',
  'null',
  'true',
  '19k',
  '-0',
  '1e999',
  '=1+2',
  '{output}',
  '\\u0041',
  '\\',
  '/',
  '%00',
  '$&',
] as const;

const pieces = (letters: fc.Arbitrary<string>, maxLength: number): fc.Arbitrary<string> =>
  fc.array(letters, { minLength: 1, maxLength }).map((all) => all.join(''));

export const text = pieces(
  fc.oneof(fc.constantFrom(...nasty), fc.string({ unit: 'grapheme', maxLength: 3 })),
  6,
).filter(
  (each) =>
    each.length > 0 && /^[^\p{Cc}\p{Cs}\u2028\u2029\u202A-\u202E\u2066-\u2069\uFFFE\uFFFF]+$/u.test(each),
);

export const id = fc.stringMatching(/^[a-z][a-z0-9-]{0,12}$/);
const slotId = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,8}$/);

const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true }).map((value) => value + 0);
const frequencyHz = between(1e-9, 400_000);
const gainDb = between(-120, 60);
const q = between(1e-9, 1000);

const some = <Value>(item: fc.Arbitrary<Value>, maxLength: number, minLength = 0) =>
  fc.array(item, { minLength, maxLength });

const unique = <Value>(item: fc.Arbitrary<Value>, maxLength: number, minLength = 0) =>
  fc.uniqueArray(item, { minLength, maxLength });

/** An object whose keys after the first `required` may be left out. */
const record = (
  required: Readonly<Record<string, fc.Arbitrary<unknown>>>,
  optional: Readonly<Record<string, fc.Arbitrary<unknown>>> = {},
): fc.Arbitrary<Plain> =>
  fc.record({ ...required, ...optional }, { requiredKeys: Object.keys(required), noNullPrototype: true });

const cutWidth = fc.oneof(
  record({ q }),
  record(
    { slopeDbPerOctave: fc.constantFrom(6, 12, 18, 24, 30, 36, 42, 48) },
    { family: fc.constant('butterworth') },
  ),
  record({ slopeDbPerOctave: fc.constantFrom(12, 24, 36, 48), family: fc.constant('linkwitz-riley') }),
);
const bandWidth = fc.oneof(record({ q }), record({ bandwidthOctaves: between(1e-9, 20) }));
const shelfWidth = fc.oneof(record({}), record({ q }), record({ shelfSlope: between(1e-9, 1) }));
const gain = record({ gainDb });

const joined = (...parts: readonly fc.Arbitrary<Plain>[]): fc.Arbitrary<Plain> =>
  fc.tuple(...parts).map((all) => Object.assign({}, ...all) as Plain);

const filter = fc.oneof(
  joined(record({ type: fc.constantFrom('lowpass', 'highpass'), frequencyHz }), cutWidth),
  joined(record({ type: fc.constantFrom('notch', 'bandpass', 'allpass'), frequencyHz }), bandWidth),
  joined(record({ type: fc.constant('peaking'), frequencyHz }), bandWidth, gain),
  joined(record({ type: fc.constantFrom('lowshelf', 'highshelf'), frequencyHz }), shelfWidth, gain),
);

const protective = ['low-cut', 'pilot-cut', 'high-cut'];
const role = id.filter((each) => !protective.includes(each));
const intent = joined(record({ role }), filter);
const intentList = fc.uniqueArray(intent, { minLength: 1, maxLength: 4, selector: (each) => each.role });

export const intents: fc.Arbitrary<Plain> = record({
  format: fc.constant('bandwright-intents/1'),
  title: text,
  intents: intentList,
});

const audioBand = fc.tuple(between(1e-9, 14_000), between(14_001, 18_000));

const fmStereo = audioBand.chain(([audioLowHz, audioHighHz]) =>
  record(
    {
      link: fc.constant('fm-stereo'),
      audioLowHz: fc.constant(audioLowHz),
      audioHighHz: fc.constant(audioHighHz),
    },
    { title: text, pilotHz: between(18_001, 400_000), preEmphasisMicroseconds: between(1e-9, 1000) },
  ),
);
const plainSystem = record(
  { link: fc.constantFrom('digital', 'wired') },
  { title: text, audioLowHz: between(1e-9, 100), audioHighHz: between(101, 400_000) },
);

const outputsOf = (index: number): fc.Arbitrary<readonly number[]> =>
  fc.constantFrom(
    [2 * index + 1],
    [2 * index + 2],
    [2 * index + 1, 2 * index + 2],
    [2 * index + 2, 2 * index + 1],
  );

const mixNames = unique(text, 4, 1);

const mixesFeeding = (systems: readonly string[]): fc.Arbitrary<readonly Plain[]> =>
  mixNames.chain((names) =>
    fc.tuple(
      ...names.map((name, index) =>
        record(
          { name: fc.constant(name), outputs: outputsOf(index), feeds: fc.constantFrom(...systems) },
          { freeSlots: unique(slotId, 3) },
        ),
      ),
    ),
  );

export const rig: fc.Arbitrary<Plain> = fc
  .dictionary(id, fc.oneof(fmStereo, plainSystem), { minKeys: 1, maxKeys: 4, noNullPrototype: true })
  .chain((systems) =>
    record(
      {
        format: fc.constant('bandwright-rig/1'),
        title: text,
        systems: fc.constant(systems),
        mixes: mixesFeeding(Object.keys(systems)),
      },
      {
        intents: intentList,
        leaveOut: unique(fc.constantFrom(...protective), 3),
        guard: record(
          {},
          {
            windowHz: between(0, 1000),
            keepLowHz: between(1e-9, 5000),
            keepHighHz: between(5001, 400_000),
            keepLossLimitDb: between(0, 60),
            pilotAttenuationAtLeastDb: between(0, 120),
          },
        ),
      },
    ),
  );

/** Any JSON value, with text that JSON can hold and XML cannot, and no key that is never allowed. */
const jsonText = pieces(
  fc.oneof(
    fc.constantFrom(
      ...nasty,
      '\0',
      '\u001b',
      '\n',
      '\t',
      '\r',
      '\ud800',
      '\udfff',
      '\ufffe',
      '\uffff',
      '\u2028',
      '\u0085',
    ),
    fc.string({ unit: 'binary', maxLength: 3 }),
  ),
  4,
);
const forbidden = ['__proto__', 'constructor', 'prototype'];
const jsonNumber = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
const { json } = fc.letrec<{ json: unknown }>((tie) => ({
  json: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    fc.oneof(fc.constant(null), fc.boolean(), jsonNumber, jsonText, fc.constant('')),
    fc.array(tie('json'), { maxLength: 3 }),
    fc.dictionary(
      jsonText.filter((key) => !forbidden.includes(key)),
      tie('json'),
      { maxKeys: 3, noNullPrototype: true },
    ),
  ),
}));

const parameterName = fc
  .stringMatching(/^[A-Za-z][A-Za-z0-9_-]{0,10}$/)
  .filter((name) => name !== 'key' && name !== 'kind' && !/^xml/i.test(name) && !forbidden.includes(name));

const ownKind = joined(
  record({ kind: id.map((each) => `of-${each}`.slice(0, 16)) }),
  fc.dictionary(parameterName, json, { maxKeys: 4, noNullPrototype: true }) as fc.Arbitrary<Plain>,
);

const number = between(-1e9, 1e9);
const positive = between(1e-9, 1e9);
const quantiser = fc.oneof(
  ownKind,
  record({ kind: fc.constant('linear'), from: number, to: number, step: positive }),
  record({
    kind: fc.constant('geometric'),
    from: positive,
    to: positive,
    count: fc.integer({ min: 2, max: 1_000_000 }),
  }),
  record({ kind: fc.constant('table'), values: some(number, 20, 1) }),
  record({
    kind: fc.constant('piecewise-linear'),
    from: number,
    segments: some(record({ to: number, step: positive }), 4, 1),
  }),
  record({
    kind: fc.constant('preferred-numbers'),
    from: positive,
    to: positive,
    series: fc.constantFrom('R5', 'R10', 'R40'),
  }),
);

const slotTypes = (grids: readonly string[]): fc.Arbitrary<Plain> => {
  const grid = fc.oneof(fc.constantFrom(...grids), between(1e-9, 20_000));
  const knob = (...names: readonly string[]) => record(Object.fromEntries(names.map((name) => [name, grid])));
  const cut = fc.oneof(
    knob('frequency', 'q'),
    knob('frequency', 'slope'),
    joined(
      knob('frequency'),
      record({ slope: fc.constantFrom(...grids), family: fc.constant('linkwitz-riley') }),
    ),
  );
  const band = fc.oneof(knob('frequency', 'q'), knob('frequency', 'bandwidth'));
  const bell = fc.oneof(knob('frequency', 'q', 'gain'), knob('frequency', 'bandwidth', 'gain'));
  const shelf = fc.oneof(knob('frequency', 'gain'), knob('frequency', 'gain', 'q'));
  return record(
    {},
    {
      lowpass: cut,
      highpass: cut,
      bandpass: band,
      notch: band,
      allpass: band,
      peaking: bell,
      lowshelf: shelf,
      highshelf: shelf,
    },
  ).filter((types) => Object.keys(types).length > 0);
};

const realisation = fc.oneof(
  record({
    id,
    design: fc.constantFrom('cookbook', 'matched', 'nyquist-gain'),
    qMeaning: fc.constantFrom('cookbook', 'classic'),
    sampleRateHz: between(8000, 768_000),
  }),
  record({
    id,
    design: fc.constant('analogue'),
    qMeaning: fc.constant('constant-bandwidth'),
    sampleRateHz: fc.constant(null),
  }),
);

const shown = record(
  {},
  {
    significantDigits: fc.integer({ min: 1, max: 9 }),
    decimals: fc.integer({ min: 0, max: 9 }),
    kiloFromHz: frequencyHz,
  },
);
const state = fc.constantFrom('untested', 'tested', 'known-bad');
const evidence = record({ grid: state, response: state, push: state });
const allTypes = ['lowpass', 'highpass', 'bandpass', 'notch', 'allpass', 'peaking', 'lowshelf', 'highshelf'];

const osc = record({
  transports: some(
    record(
      { kind: fc.constantFrom('udp', 'tcp-slip', 'tcp-length-prefix') },
      { port: fc.integer({ min: 1, max: 65535 }) },
    ),
    3,
    1,
  ),
  addresses: fc.constant({
    type: `/!"&'<>~/{output:02}/{slot}/t`,
    frequency: '/&amp;/{output}/{slot}/f',
    outputName: '/{output}',
  }),
  encodings: fc.constant({
    type: { as: 'index', type: 'h', order: [...allTypes].reverse() },
    frequency: { as: 'text', type: 's' },
  }),
  read: fc.constantFrom('same-address-without-arguments', 'none'),
});

export const target: fc.Arbitrary<Plain> = fc
  .dictionary(id, quantiser, { minKeys: 1, maxKeys: 4, noNullPrototype: true })
  .chain((quantisers) =>
    record(
      {
        format: fc.constant('bandwright-target/1'),
        id,
        title: text,
        provenance: text,
        outputs: record({
          count: fc.integer({ min: 1, max: 1024 }),
          stereo: fc.constantFrom('legs-share', 'legs-separate'),
        }),
        quantisers: fc.constant(quantisers),
        slots: fc.uniqueArray(record({ id: slotId, types: slotTypes(Object.keys(quantisers)) }), {
          minLength: 1,
          maxLength: 3,
          selector: (slot) => slot.id,
        }),
        realisations: fc.uniqueArray(realisation, {
          minLength: 1,
          maxLength: 3,
          selector: (each) => each.id,
        }),
        display: record(
          {},
          { frequency: shown, gain: shown, typeLabels: record({}, { notch: text, peaking: text }) },
        ),
        evidence,
      },
      { osc },
    ),
  );

const position = fc
  .tuple(fc.nat(500), fc.nat(500))
  .chain(([index, above]) =>
    record({
      index: fc.constant(index),
      of: fc.constant(index + above + 1),
      display: text.map((each) => [...each].slice(0, 20).join('')),
      fromBottom: fc.constant(index),
      fromTop: fc.constant(above),
    }),
  );
const band = record({
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
const figures = { pilotAttenuationDb: number, keepLossDb: number, riseDb: number, guardBandDb: number };
const guard = record({
  pilotHz: frequencyHz,
  windowHz: number,
  keepLowHz: frequencyHz,
  keepHighHz: frequencyHz,
  preEmphasisMicroseconds: some(number, 3, 1),
  limits: record({ pilotAttenuationAtLeastDb: number, keepLossAtMostDb: number, riseAtMostDb: number }),
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
    bands: fc.uniqueArray(band, { maxLength: 2, selector: (each) => each.slot }),
    guard: fc.oneof(guard, fc.constant(null)),
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

export const documents = { rig, intents, target, recipe } as const;
