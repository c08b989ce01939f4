import fc from 'fast-check';
import { id, nasty, type Plain, pieces, record, text } from './plain.js';
import { osc, target } from './target.js';

/** A found text: whatever XML can hold, line ends and tabs too. */
const foundText = fc.oneof(
  fc.constant(''),
  pieces(
    fc.oneof(
      fc.constantFrom(...nasty, '\t', '\n', '\r', '\r\n', '\u007f', '\u0085', '\u2028', '\u202e', '\u200b'),
      fc.string({ unit: 'grapheme', maxLength: 3 }),
    ),
    6,
  ).filter((each) => /^[\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]*$/u.test(each)),
);

const instant = fc
  .date({ min: new Date('0001-01-01T00:00:00Z'), max: new Date('9999-12-31T00:00:00Z'), noInvalidDate: true })
  .chain((date) => fc.constantFrom(date.toISOString(), date.toISOString().replace(/\.\d+/, '')));

const display = fc.oneof(text, fc.constant(''), fc.constant(null));

const int64 = fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n - 1n }).map(String);

/** What the targets made here have: a type that travels as an int64, and a frequency that travels as text. */
const foundAt = (output: number, slot: string): fc.Arbitrary<readonly Plain[]> =>
  fc
    .tuple(
      record({
        parameter: fc.constant('type'),
        address: fc.constant(`/!"&'<>~/${output}/${slot}/t`),
        argument: record({ type: fc.constant('h'), text: int64 }),
        display,
      }),
      record({
        parameter: fc.constant('frequency'),
        address: fc.constant(`/&amp;/${output}/${slot}/f`),
        argument: record({ type: fc.constant('s'), text: foundText }),
        display,
      }),
      fc.nat(2),
    )
    .map(([type, frequency, count]) => [type, frequency].slice(0, count));

const mixOf = (name: string, output: number, slots: readonly string[]): fc.Arbitrary<Plain> =>
  record({
    name: fc.constant(name),
    outputs: fc.constant([output]),
    slots: fc.tuple(
      ...slots.map((slot) =>
        record({ output: fc.constant(output), slot: fc.constant(slot), found: foundAt(output, slot) }),
      ),
    ),
  });

interface Described {
  readonly outputs: { readonly count: number };
  readonly slots: readonly { readonly id: string }[];
}

export const journal: fc.Arbitrary<Plain> = fc
  .tuple(target, osc, fc.uniqueArray(text, { maxLength: 3 }))
  .chain(([bare, reached, names]) => {
    const { outputs, slots } = bare as unknown as Described;
    const ids = slots.map((slot) => slot.id);
    const mixes = names.slice(0, outputs.count).map((name, index) => mixOf(name, index + 1, ids));
    const left = names.map((name) =>
      record({ name: fc.constant(name), state: fc.constantFrom('applied', 'put-back', 'unknown', 'sent') }),
    );
    return record({
      format: fc.constant('bandwright-journal/1'),
      purpose: fc.constantFrom('push', 'restore'),
      startedAt: instant,
      title: text,
      desk: record({
        transport: fc.constantFrom('udp', 'tcp-slip', 'tcp-length-prefix'),
        host: fc.oneof(text, id, fc.ipV4(), fc.ipV6()),
        port: fc.integer({ min: 1, max: 65535 }),
      }),
      target: fc.constant({ ...bare, osc: reached }),
      mixes: fc.tuple(...mixes),
      outcome: fc.oneof(
        fc.constant(null),
        record({
          endedAt: instant,
          result: fc.constantFrom('done', 'falls-short', 'interrupted', 'desk-lost'),
          mixes: fc.tuple(...left),
        }),
      ),
    });
  });
