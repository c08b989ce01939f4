import type { FilterType } from '../filters/filter.js';
import { fillAddress } from '../model/address-template.js';
import type { Desk, DeskSlot } from '../model/desk.js';
import { deskPairs, pairFault } from '../model/pairs.js';
import { type Outcome, problem } from '../model/problem.js';
import type { Osc, OscParameter } from '../model/target.js';
import { oscOf } from '../osc/address.js';
import { type AskedValue, questionFor, questionKey } from '../osc/asking.js';
import { oscString } from '../osc/message.js';
import { countedTypes } from '../osc/scale.js';
import { type SlotParameter, slotParameters } from '../osc/slot-parameters.js';
import { quote } from '../units/quote.js';
import { fail, ok } from '../units/result.js';

/** A show as a desk is set up for it. */
export interface StandinOutputs {
  /** What outputs are called; `Out 1` and so on where nothing is told. */
  readonly names?: ReadonlyMap<number, string>;
  /**
   * Which outputs are left and right of one mix; all others are mono. Where nothing is told, every pair the target
   * has; none where any two may be one.
   */
  readonly pairs?: readonly (readonly [left: number, right: number])[];
}

/** The outputs of a desk that is set up for some mixes: named as they are, and paired where they are stereo. */
export const outputsFor = (
  mixes: readonly { readonly name: string; readonly outputs: readonly number[] }[],
): StandinOutputs => ({
  names: new Map(mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name] as const))),
  pairs: mixes.flatMap(({ outputs: [left, right] }) =>
    left === undefined || right === undefined ? [] : [[left, right] as const],
  ),
});

/** What OSC reaches of a slot, whichever output it is of. */
export type Dial = Pick<SlotParameter, 'name' | 'encoding' | 'scaleAs'>;

/** One slot, alike on every output. */
export interface MappedSlot {
  readonly id: string;
  readonly types: readonly FilterType[];
  /** The types the desk counts, by which it tells and takes a slot's type; not all need be the slot's. */
  readonly counted: readonly FilterType[];
  readonly dials: ReadonlyMap<OscParameter, Dial>;
}

/** What stands at an address. */
export type AddressedPlace =
  | {
      readonly kind: 'dial';
      readonly output: number;
      /** Which set of filters, and which slot of it: counted from 0. */
      readonly bank: number;
      readonly slot: number;
      readonly dial: Dial;
    }
  | { readonly kind: 'name'; readonly output: number };

/** A desk as a stand-in needs it: who shares filters, what there is to turn, where it is reached. */
export interface AddressMap {
  readonly desk: Desk;
  /** The outputs that each set of filters is for: both legs of a pair where they share. */
  readonly banks: readonly (readonly number[])[];
  readonly slots: readonly MappedSlot[];
  readonly places: ReadonlyMap<string, AddressedPlace>;
  /** What it answers, by the keys of questions; empty where it answers nothing. */
  readonly questions: ReadonlyMap<string, AskedPlace>;
  nameOf(output: number): string;
}

const longestName = 1000;

const banksOf = ({ target }: Desk, pairs: StandinOutputs['pairs']): AddressMap['banks'] => {
  const { count, stereo } = target.outputs;
  const standing = deskPairs(target.outputs);
  // Where any two may be a pair, nobody has paired them yet.
  const sharing = stereo === 'legs-share' ? (pairs ?? (standing === 'any' ? [] : standing)) : [];
  const outputs = Array.from({ length: count }, (_, index) => index + 1);
  return outputs.flatMap((output): readonly (readonly number[])[] => {
    const pair = sharing.find((legs) => legs.includes(output));
    if (!pair) return [[output]];
    return Math.min(...pair) === output ? [pair] : [];
  });
};

const slotOf = (slot: DeskSlot, desk: Desk, osc: Osc): Outcome<MappedSlot> => {
  // Outputs differ in nothing but the address.
  const parameters = slotParameters(slot, 1, desk);
  if (!parameters.ok) return parameters;
  return ok({
    id: slot.id,
    types: [...slot.types.keys()],
    counted: countedTypes(slot, osc),
    dials: new Map(parameters.value.map((each) => [each.name, each])),
  });
};

/** Every address of one output. */
const placesOf = (
  output: number,
  bank: number,
  slots: readonly MappedSlot[],
  { addresses }: Osc,
): readonly (readonly [template: string, slot: string | undefined, AddressedPlace])[] => [
  ...slots.flatMap(({ id, dials }, slot) =>
    [...dials.values()].map(
      (dial) =>
        [addresses[dial.name] ?? '', id, { kind: 'dial' as const, output, bank, slot, dial }] as const,
    ),
  ),
  ...(addresses.outputName === undefined
    ? []
    : [[addresses.outputName, undefined, { kind: 'name', output }] as const]),
];

const unsayable = (name: string): string | null => {
  const sent = oscString(name);
  if (!sent.ok) return sent.error;
  return name.length > longestName
    ? `A name of ${name.length} characters is longer than any desk shows.`
    : null;
};

/** Every address and what stands there. Problems: an address that cannot be filled, or stands for two things. */
const allPlaces = (
  banks: AddressMap['banks'],
  slots: readonly MappedSlot[],
  osc: Osc,
): Outcome<AddressMap['places']> => {
  const places = new Map<string, AddressedPlace>();
  const unfit = (code: string, told: string) => fail([problem(code, 'osc.addresses', told)]);
  for (const [bank, outputs] of banks.entries()) {
    for (const output of outputs) {
      for (const [template, slot, place] of placesOf(output, bank, slots, osc)) {
        const address = fillAddress(template, slot === undefined ? { output } : { output, slot });
        if (!address.ok) return unfit('osc-address-unfit', address.error);
        if (places.has(address.value)) {
          const told = `${quote(address.value)} is the address of two things. Write more than digits between {output} and {slot}.`;
          return unfit('osc-address-shared', told);
        }
        places.set(address.value, place);
      }
    }
  }
  return ok(places);
};

/**
 * Maps a desk, set up for a show. Problems: no OSC, an address that cannot be filled or stands for two things, be it
 * written to or asked, a name that cannot be sent, two outputs that are no pair of the desk.
 */
export const makeAddressMap = (
  desk: Desk,
  { names = new Map(), pairs }: StandinOutputs = {},
): Outcome<AddressMap> => {
  const reached = oscOf(desk.target);
  if (!reached.ok) return reached;
  const osc = reached.value;
  const unfit = [...names.values()].map(unsayable).find((fault) => fault !== null);
  if (unfit) return fail([problem('name-unfit', 'names', unfit)]);
  const unpaired = pairs?.map((pair) => pairFault(pair, desk.target)).find((fault) => fault !== null);
  if (unpaired) return fail([problem('pair-unknown', 'outputs', unpaired)]);
  const slots: MappedSlot[] = [];
  for (const each of desk.slots) {
    const slot = slotOf(each, desk, osc);
    if (!slot.ok) return slot;
    slots.push(slot.value);
  }
  const banks = banksOf(desk, pairs);
  const places = allPlaces(banks, slots, osc);
  if (!places.ok) return places;
  const questions = allQuestions(places.value, slots, osc);
  if (!questions.ok) return questions;
  return ok({
    desk,
    banks,
    slots,
    places: places.value,
    questions: questions.value,
    nameOf: (output) => names.get(output) ?? `Out ${output}`,
  });
};

/** What one question asks for, and where the answer goes. */
export interface AskedPlace {
  /** The address of what is asked for. */
  readonly address: string;
  readonly place: AddressedPlace;
  readonly answerAddress: string;
}

const asValue = (address: string, place: AddressedPlace, slots: readonly MappedSlot[]): AskedValue => {
  const { output } = place;
  if (place.kind === 'name') return { name: 'outputName', place: { output }, address };
  const slot = slots[place.slot]?.id ?? '';
  return { name: place.dial.name, place: { output, slot }, address };
};

/**
 * Every question a desk answers, by its key. Problems: a value that cannot be asked for, an address that would ask for
 * two values, or ask for one and belong to another.
 */
const allQuestions = (
  places: ReadonlyMap<string, AddressedPlace>,
  slots: readonly MappedSlot[],
  osc: Osc,
): Outcome<ReadonlyMap<string, AskedPlace>> => {
  const questions = new Map<string, AskedPlace>();
  const answerAddresses = new Set<string>();
  const unfit = (code: string, told: string) => fail([problem(code, 'osc.read', told)]);
  for (const [address, place] of places) {
    const question = questionFor(osc, asValue(address, place, slots));
    if (!question.ok) return unfit('osc-address-unfit', question.error);
    if (question.value === null) continue;
    const { message, answerAddress } = question.value;
    const key = questionKey(message);
    const isOthers = [message.address, answerAddress].some((each) => (places.get(each) ?? place) !== place);
    if (isOthers || questions.has(key) || answerAddresses.has(answerAddress)) {
      const told = `${quote(message.address)}, which asks for what stands at ${quote(address)}, stands for something else too. Ask for each value at an address of its own.`;
      return unfit('osc-address-shared', told);
    }
    questions.set(key, { address, place, answerAddress });
    answerAddresses.add(answerAddress);
  }
  return ok(questions);
};
