import fc from 'fast-check';
import { forbidden, json } from './json.js';
import { between, frequencyHz, id, joined, type Plain, record, slotId, some, text } from './plain.js';

const parameterName = fc
  .stringMatching(/^[A-Za-z][A-Za-z0-9_-]{0,10}$/)
  .filter((name) => name !== 'key' && name !== 'kind' && !/^xml/i.test(name) && !forbidden.includes(name));

const ownKind = joined(
  record({ kind: id.map((each) => `of-${each}`.slice(0, 16)) }),
  fc.dictionary(parameterName, json, { maxKeys: 4, noNullPrototype: true }) as fc.Arbitrary<Plain>,
);

export const number = between(-1e9, 1e9);
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
  record(
    { kind: fc.constant('ratio-steps'), from: positive, to: positive },
    { perOctave: between(0.1, 100_000), perDecade: between(0.1, 100_000) },
  ),
  record({
    kind: fc.constant('table'),
    values: fc.oneof(
      some(number, 20, 1),
      // Texts that an attribute would make a list of, and others.
      fc.constantFrom('12', '20 25 31.5', ' 20  25\n', '20, 25', '1k 2k', '\t', '12;\r\n18 "<&'),
      text,
    ),
  }),
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
  const placed = fc.oneof(knob('frequency', 'q'), knob('frequency', 'bandwidth'));
  const bell = fc.oneof(knob('frequency', 'q', 'gain'), knob('frequency', 'bandwidth', 'gain'));
  const shelf = fc.oneof(knob('frequency', 'gain'), knob('frequency', 'gain', 'q'));
  return record(
    {},
    {
      lowpass: cut,
      highpass: cut,
      bandpass: placed,
      notch: placed,
      allpass: knob('frequency', 'q'),
      peaking: bell,
      lowshelf: shelf,
      highshelf: shelf,
    },
  ).filter((types) => Object.keys(types).length > 0);
};

const realisation = fc.oneof(
  record(
    {
      id,
      design: fc.constant('cookbook'),
      qMeaning: fc.constantFrom('cookbook', 'classic'),
      sampleRateHz: between(32_000, 768_000),
    },
    { bandwidthMeaning: fc.constantFrom('digital', 'analogue') },
  ),
  record({
    id,
    design: fc.constantFrom('matched', 'nyquist-gain'),
    qMeaning: fc.constantFrom('cookbook', 'classic'),
    sampleRateHz: between(32_000, 768_000),
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
export const evidence = record({ grid: state, response: state, push: state });
export const allTypes = [
  'lowpass',
  'highpass',
  'bandpass',
  'notch',
  'allpass',
  'peaking',
  'lowshelf',
  'highshelf',
];

/** A part of an OSC address (OpenSoundControl 1.0, "OSC Address Spaces"), XML's own characters among it. */
const part = fc.stringMatching(/^[!"$-)+\-.0-9:->@A-Z\\^_`a-z|~]{1,8}$/);

const read = fc.oneof(
  fc.constantFrom('same-address-without-arguments', 'none'),
  record(
    {
      by: fc.constant('address'),
      address: fc.tuple(part, part).map(([before, behind]) => `/ask/${before}{address}/${behind}`),
      answeredAt: fc.constantFrom('asked-address', 'written-address'),
    },
    { addresses: part.map((each) => ({ frequency: `/${each}/{output}/{slot}/asked` })) },
  ),
  record({
    by: fc.constant('argument'),
    argument: fc.oneof(
      part.filter((text) => !/^[+-]?\.?\d/.test(text)).map((text) => ({ type: 's', text })),
      fc.constantFrom({ type: 'N' }, { type: 'I' }),
    ),
  }),
);

export const osc = record({
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
  read,
});

/** Pairs as words, or listed: some of the outputs, in any order, two by two. */
const sharingOutputs = fc.oneof(fc.integer({ min: 2, max: 9 }), fc.constant(1024)).chain((count) =>
  record(
    { count: fc.constant(count), stereo: fc.constant('legs-share') },
    {
      pairs: fc.oneof(
        fc.constantFrom('odd-even', 'any'),
        fc
          .shuffledSubarray(
            Array.from({ length: count }, (_, index) => index + 1),
            { minLength: 2 },
          )
          .map((outputs) =>
            Array.from(
              { length: Math.floor(outputs.length / 2) },
              (_, index) => `${outputs[2 * index]}/${outputs[2 * index + 1]}`,
            ),
          ),
      ),
    },
  ),
);
const separateOutputs = record({
  count: fc.integer({ min: 1, max: 1024 }),
  stereo: fc.constant('legs-separate'),
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
        outputs: fc.oneof(sharingOutputs, separateOutputs),
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
