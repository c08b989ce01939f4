import type { FoundArgument, FoundValue, Journal, JournalMix, JournalSlot } from '../../../model/journal.js';
import { quote } from '../../../units/quote.js';
import { type Breach, brokenBy, type Rule, rule } from '../rule.js';

/** One slot of a journal, and the path to it. */
interface SlotAt {
  readonly slot: JournalSlot;
  readonly mix: JournalMix;
  readonly path: string;
}

/** One found value of a journal, and the path to it. */
interface ValueAt {
  readonly value: FoundValue;
  readonly slot: JournalSlot;
  readonly path: string;
}

/** Every slot of every mix of a journal. */
export const slotsIn = ({ mixes }: Journal): readonly SlotAt[] =>
  mixes.flatMap((mix, at) =>
    mix.slots.map((slot, index) => ({ slot, mix, path: `mixes[${at}].slots[${index}]` })),
  );

/** Every value a journal holds. */
const valuesIn = (journal: Journal): readonly ValueAt[] =>
  slotsIn(journal).flatMap(({ slot, path }) =>
    slot.found.map((value, index) => ({ value, slot, path: `${path}.found[${index}]` })),
  );

/** A rule about each found value, on its own. */
const foundValueRule = (
  name: string,
  breach: (each: ValueAt, journal: Journal) => Breach | null,
): Rule<Journal> => rule(name, (journal) => brokenBy(valuesIn(journal), (each) => breach(each, journal)));

/** A rule that no two found values are alike in some way; `tell` says what the first of them has taken. */
const foundOnceRule = (
  name: string,
  keyOf: (each: ValueAt) => string,
  tell: (each: ValueAt, first: ValueAt) => Breach,
): Rule<Journal> =>
  rule(name, (journal) => {
    const firsts = new Map<string, ValueAt>();
    return valuesIn(journal).flatMap((each) => {
      const first = firsts.get(keyOf(each));
      if (first) return [tell(each, first)];
      firsts.set(keyOf(each), each);
      return [];
    });
  });

/** Each parameter of a slot of an output was found once. */
const foundOnce = foundOnceRule(
  'found-once',
  ({ value, slot }) => `${slot.output} ${slot.slot} ${value.parameter}`,
  ({ value, slot, path }, first) => [
    `${path}.parameter`,
    `${value.parameter} of slot ${quote(slot.slot)}, output ${slot.output}, stands at ${first.path} already; it can be put back one way only. Take one of them out.`,
  ],
);

/** No two found values are put back to one address; the second would overwrite the first. */
const foundAddressesDiffer = foundOnceRule(
  'found-addresses-differ',
  ({ value }) => value.address,
  ({ value, path }, first) => [
    `${path}.address`,
    `${quote(value.address)} is the address of ${first.path} already; one would overwrite the other. Correct one of them.`,
  ],
);

const isInt32 = (number: number): boolean =>
  Number.isInteger(number) && number >= -(2 ** 31) && number < 2 ** 31;

const isInt64 = (digits: string): boolean =>
  /^-?[0-9]{1,19}$/.test(digits) && BigInt.asIntN(64, BigInt(digits)) === BigInt(digits);

const numberFault = (type: FoundArgument['type'], number: number): string | null => {
  if (type === 'i' && !isInt32(number)) {
    return `${number} is no int32; allowed are whole numbers from -2147483648 to 2147483647`;
  }
  return type === 'f' && !Number.isFinite(Math.fround(number))
    ? `${number} is no float32; allowed are numbers up to 3.4028235e38`
    : null;
};

const textFault = (type: FoundArgument['type'], text: string): string | null =>
  type === 'h' && !isInt64(text)
    ? `${quote(text)} is no int64; allowed are whole numbers in digits, from -9223372036854775808 to 9223372036854775807`
    : null;

const carrierOf = { f: 'number', d: 'number', i: 'number', h: 'text', s: 'text' } as const;

const argumentFault = ({
  type,
  number,
  text,
}: FoundArgument): readonly [key: string, fault: string] | null => {
  const carrier = carrierOf[type];
  const other = carrier === 'number' ? 'text' : 'number';
  const [value, extra] = carrier === 'number' ? [number, text] : [text, number];
  if (value === undefined) return [carrier, `an argument of type ${quote(type)} has a ${carrier}; give it`];
  if (extra !== undefined) {
    return [other, `an argument of type ${quote(type)} has a ${carrier} and no ${other}; take ${other} out`];
  }
  const fault = typeof value === 'number' ? numberFault(type, value) : textFault(type, value);
  return fault === null ? null : [carrier, fault];
};

/** An argument carries its value as its OSC type has it, and the type can hold it (OpenSoundControl 1.0). */
const foundArguments = foundValueRule('found-arguments', ({ value, path }) => {
  const fault = argumentFault(value.argument);
  return fault && [`${path}.argument.${fault[0]}`, `This cannot be sent: ${fault[1]}.`];
});

/** Every found value came as the target says it travels. */
const foundAsEncoded = foundValueRule('found-as-encoded', ({ value, path }, { target }) => {
  const { parameter, argument } = value;
  const encoding = target.osc?.encodings[parameter];
  if (!target.osc || encoding?.type === argument.type) return null;
  return encoding
    ? [
        `${path}.argument.type`,
        `The target says that ${parameter} travels as ${quote(encoding.type)}, not as ${quote(argument.type)}; correct one of them.`,
      ]
    : [
        `${path}.parameter`,
        `The target does not say how ${parameter} travels; complete its osc, or take this out.`,
      ];
});

/** What holds for the values a journal holds. */
export const foundRules: readonly Rule<Journal>[] = [
  foundOnce,
  foundAddressesDiffer,
  foundArguments,
  foundAsEncoded,
];
