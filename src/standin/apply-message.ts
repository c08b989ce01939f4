import { isOscAddress } from '../model/address-template.js';
import { askingWords, canBeAsked, questionKey } from '../osc/asking.js';
import { argumentFor, settingIn } from '../osc/encodings/registry.js';
import { type OscArgument, type OscMessage, oscString } from '../osc/message.js';
import { fail, ok, type Result } from '../units/result.js';
import type { AddressedPlace, AddressMap, MappedSlot } from './address-map.js';
import type { Author, StandinEvent } from './events.js';
import {
  type DeskState,
  knobScales,
  type SlotState,
  slotOfState,
  slotSetting,
  withStep,
} from './slot-state.js';

/** What becomes of one message. */
export interface Applied {
  readonly state: DeskState;
  readonly answer: OscMessage | null;
  readonly event: StandinEvent;
}

type DialAt = Extract<AddressedPlace, { readonly kind: 'dial' }>;

/** The slot a dial belongs to, and how it is set. */
const slotAt = ({ slots }: AddressMap, state: DeskState, place: DialAt): readonly [MappedSlot, SlotState] => {
  const slot = slots[place.slot];
  if (!slot) throw new RangeError(`there is no slot ${place.slot}`);
  return [slot, slotOfState(state, place.bank, place.slot)];
};

const withSlot = (state: DeskState, { bank, slot }: DialAt, set: SlotState): DeskState =>
  state.with(bank, (state[bank] ?? []).with(slot, set));

/** Knobs that read otherwise than before, though nobody turned them. */
const movedKnobs = (slot: MappedSlot, before: SlotState, after: SlotState) =>
  before.type === after.type
    ? []
    : knobScales(slot, after.type).flatMap(({ knob, scale }) => {
        const { text } = scale.at(after.steps[knob] ?? 0);
        return slotSetting(slot, before, knob)?.text === text ? [] : [{ parameter: knob, display: text }];
      });

const oneOf = (args: readonly OscArgument[]): Result<OscArgument, string> => {
  const [argument] = args;
  return argument && args.length === 1
    ? ok(argument)
    : fail(`it came with ${args.length} arguments, and one is expected`);
};

const write = (
  map: AddressMap,
  state: DeskState,
  message: OscMessage,
  place: DialAt,
  by: Author,
): Applied => {
  const { address, args } = message;
  const { dial, output, bank } = place;
  const [slot, before] = slotAt(map, state, place);
  const refuse = (why: string): Applied => ({
    state,
    answer: null,
    event: { event: 'refused', by, address, args, why },
  });
  const argument = oneOf(args);
  if (!argument.ok) return refuse(argument.error);
  const setting = settingIn(dial.encoding, argument.value, dial.scaleAs(before.type));
  if (!setting.ok) return refuse(setting.error);
  const { index, of, text: display } = setting.value;
  const after = withStep(slot, before, dial.name, index);
  if (!after.ok) return refuse(after.error);
  return {
    state: withSlot(state, place, after.value),
    answer: null,
    event: {
      event: 'write',
      by,
      address,
      output,
      outputs: map.banks[bank] ?? [],
      slot: slot.id,
      parameter: dial.name,
      argument: argument.value,
      index,
      of,
      display,
      moved: movedKnobs(slot, before, after.value),
    },
  };
};

/** What a desk tells of a place. The error is the end of a sentence. */
const told = (map: AddressMap, state: DeskState, place: AddressedPlace): Result<OscArgument, string> => {
  if (place.kind === 'name') return oscString(map.nameOf(place.output));
  const setting = slotSetting(...slotAt(map, state, place), place.dial.name);
  return setting === null
    ? fail('what stands there cannot be told')
    : argumentFor(place.dial.encoding, setting);
};

/** Why a message without arguments leads to nothing. */
const notAsked = ({ desk: { target } }: AddressMap): string =>
  target.osc && canBeAsked(target)
    ? `it carries no value, and here ${askingWords(target.osc)}`
    : 'it is a question, and this desk answers none';

/** Takes one message: what the desk holds afterwards, what it answers, and what there is to record. */
export const applyMessage = (map: AddressMap, state: DeskState, message: OscMessage, by: Author): Applied => {
  const { address, args } = message;
  const ignore = (why: string): Applied => ({
    state,
    answer: null,
    event: { event: 'ignored', address, why },
  });
  const refuse = (why: string): Applied => ({
    state,
    answer: null,
    event: { event: 'refused', by, address, args, why },
  });
  if (!isOscAddress(address)) return ignore('it is a pattern, and this desk takes whole addresses');
  const asked = map.questions.get(questionKey(message));
  if (asked) {
    const answer = told(map, state, asked.place);
    if (!answer.ok) return refuse(answer.error);
    return {
      state,
      answer: { address: asked.answerAddress, args: [answer.value] },
      event: { event: 'read', address: asked.address, answer: answer.value },
    };
  }
  const place = map.places.get(address);
  if (!place) {
    const isAskedThere = map.questions.has(questionKey({ address, args: [] }));
    return ignore(
      isAskedThere ? 'values are asked for there without arguments' : 'this desk has no such address',
    );
  }
  if (args.length === 0) return ignore(notAsked(map));
  return place.kind === 'name'
    ? refuse('the name of an output is for reading only')
    : write(map, state, message, place, by);
};

/**
 * A message that turns the dial at an address to another setting than the one it has, picked by `random` among
 * all others. Null where there is nothing to turn.
 */
export const makeMeddleMessage = (
  map: AddressMap,
  state: DeskState,
  address: string,
  random: () => number,
): OscMessage | null => {
  const place = map.places.get(address);
  if (place?.kind !== 'dial') return null;
  const [slot, set] = slotAt(map, state, place);
  const { name, encoding, scaleAs } = place.dial;
  const scale = scaleAs(set.type);
  const now = slotSetting(slot, set, name);
  const others = scale.count - 1;
  const first = Math.floor(random() * others);
  // The desk may take one for another, or refuse it: looks alike, a type the slot has not. Then the next one.
  for (let tried = 0; tried < others; tried++) {
    const index = ((now?.index ?? -1) + 1 + ((first + tried) % others)) % scale.count;
    const argument = argumentFor(encoding, scale.at(index));
    if (!argument.ok) continue;
    const message = { address, args: [argument.value] };
    const after = applyMessage(map, state, message, 'someone-else').state;
    if (slotSetting(...slotAt(map, after, place), name)?.index !== now?.index) return message;
  }
  return null;
};
