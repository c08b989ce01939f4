import type { FilterType } from '../../../filters/filter.js';
import { knobNames } from '../../../model/knob.js';
import type { OscEncoding, OscParameter, Slot, Target } from '../../../model/target.js';
import { quote } from '../../../units/quote.js';
import { type Breach, brokenBy, type Rule, rule } from '../rule.js';
import { offeredTypes } from './slots.js';

/** How each thing OSC reaches travels. */
export const encodingsOf = ({ osc }: Target): readonly (readonly [OscParameter, OscEncoding])[] =>
  Object.entries(osc?.encodings ?? {}) as [OscParameter, OscEncoding][];

/** What OSC sets has an address and an encoding; one without the other sends nothing. */
const oscPairs: Rule<Target> = rule('osc-pairs', ({ osc }) => {
  // A name is read from the desk and never set, so it has no encoding.
  const addressed = Object.keys(osc?.addresses ?? {}).filter((key) => key !== 'outputName');
  const encoded = Object.keys(osc?.encodings ?? {});
  const lacking = (what: string, list: string, keys: readonly string[], has: readonly string[]) =>
    keys
      .filter((key) => !has.includes(key))
      .map((key): Breach => {
        const other = list === 'encodings' ? 'addresses' : 'encodings';
        const message = `${what} is missing for ${key}; give it, or take ${key} out of osc.${other}.`;
        return [`osc.${list}.${key}`, message];
      });
  return [
    ...lacking('An encoding', 'encodings', addressed, encoded),
    ...lacking('An address', 'addresses', encoded, addressed),
  ];
});

/** OSC sets only knobs that some slot has. */
const oscReachesKnobs: Rule<Target> = rule('osc-reaches-knobs', (target) => {
  const offered = offeredTypes(target);
  return knobNames
    .filter((knob) => target.osc?.addresses[knob] !== undefined)
    .filter((knob) => offered.every((each) => each.offered[knob] === undefined))
    .map((knob) => [
      `osc.addresses.${knob}`,
      `No slot has a ${knob} knob, so nothing would be sent here; take ${knob} out of osc, or give a slot the knob.`,
    ]);
});

const wholeNumbers: readonly string[] = ['i', 'h'];

const encodingFault = (parameter: OscParameter, { as, type }: OscEncoding): string | null => {
  if (as === 'text' && type !== 's') return `text travels as OSC type "s", not ${quote(type)}`;
  if (as === 'fraction' && wholeNumbers.includes(type)) {
    return `a fraction from 0 to 1 is lost in the whole number that OSC type ${quote(type)} is; write "f" or "d"`;
  }
  if (as === 'engineering' && (parameter === 'type' || parameter === 'on')) {
    return `${parameter} has no value in Hz or dB; write "index"`;
  }
  return null;
};

/** An encoding says a way of travelling that keeps the value. */
const oscEncodings: Rule<Target> = rule('osc-encodings', (target) =>
  brokenBy(encodingsOf(target), ([parameter, encoding]) => {
    const fault = encodingFault(parameter, encoding);
    return fault === null ? null : [`osc.encodings.${parameter}`, `This cannot be sent: ${fault}.`];
  }),
);

/** Whether filter types are sent by counting them. */
const countsTypes = ({ osc }: Target): boolean => {
  const as = osc?.encodings.type?.as;
  return as === 'index' || as === 'fraction';
};

const lacksFrom = (order: readonly FilterType[], types: readonly FilterType[]): readonly FilterType[] =>
  [...new Set(types)].filter((type) => !order.includes(type));

const orderFault = (parameter: OscParameter, { order }: OscEncoding, target: Target): string | null => {
  if (parameter !== 'type' || !countsTypes(target)) {
    const fault = 'An order belongs to the filter type sent as an index only; take it out.';
    return order === undefined ? null : fault;
  }
  // A slot with an order of its own is counted by that.
  const slots = target.slots.filter(({ typeOrder }) => typeOrder === undefined);
  if (order === undefined) {
    return slots.length === 0
      ? null
      : `The filter type is sent as a number, so the desk's order of types must be given, as in ["peaking", "notch"].`;
  }
  if (slots.length === 0) {
    return 'Every slot has a typeOrder of its own, so nothing is counted in this order; take it out, or theirs.';
  }
  const lacking = lacksFrom(
    order,
    offeredTypes({ slots }).map(({ type }) => type),
  );
  return lacking.length === 0
    ? null
    : `Slots offer ${lacking.join(', ')}, which the order does not hold and which could not be sent; complete it.`;
};

/** A filter type sent as a number is counted in an order, and the order holds every type a slot offers. */
const oscTypeOrder: Rule<Target> = rule('osc-type-order', (target) =>
  brokenBy(encodingsOf(target), ([parameter, encoding]) => {
    const fault = orderFault(parameter, encoding, target);
    return fault === null ? null : [`osc.encodings.${parameter}.order`, fault];
  }),
);

const slotOrderFault = ({ types, typeOrder }: Slot, target: Target): string | null => {
  const { osc } = target;
  if (typeOrder === undefined) return null;
  const type = osc?.encodings.type;
  if (type === undefined || osc?.addresses.type === undefined) {
    const lack = osc === undefined ? 'no osc' : 'no address and encoding for type';
    return `This is the order in which OSC counts the types of this slot, and the target has ${lack}; give that, or take this out.`;
  }
  if (!countsTypes(target)) {
    return `This is the order in which OSC counts the types of this slot, and here the type travels as ${type.as}, which counts nothing; take this out.`;
  }
  const lacking = lacksFrom(typeOrder, Object.keys(types) as FilterType[]);
  return lacking.length === 0
    ? null
    : `The slot offers ${lacking.join(', ')}, which this order does not hold and which could not be sent; complete it.`;
};

/** A slot's own order of types is of a desk that counts them, and holds every type of the slot. */
const slotTypeOrder: Rule<Target> = rule('slot-type-order', (target) =>
  brokenBy(target.slots, (slot, index) => {
    const fault = slotOrderFault(slot, target);
    return fault === null ? null : [`slots[${index}].typeOrder`, fault];
  }),
);

/** What holds for how OSC sets a desk. */
export const oscRules: readonly Rule<Target>[] = [
  oscPairs,
  oscReachesKnobs,
  oscEncodings,
  oscTypeOrder,
  slotTypeOrder,
];
