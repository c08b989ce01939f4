import { isOscAddress } from '../osc/address.js';
import { askingWords, canBeAsked, questionKey } from '../osc/asking.js';
import { argumentFor, settingIn } from '../osc/encodings/registry.js';
import { type OscArgument, type OscMessage, oscString } from '../osc/message.js';
import { fail, ok, type Result } from '../units/result.js';
import type { Layout, LayoutSlot, Place } from './address-map.js';
import type { By, StandinEvent } from './events.js';
import {
  type DeskState,
  knobScales,
  type SlotState,
  settingOf,
  slotOfState,
  withStep,
} from './slot-state.js';

/** What becomes of one message. */
export interface Taken {
  readonly state: DeskState;
  readonly answer: OscMessage | null;
  readonly event: StandinEvent;
}

type DialAt = Extract<Place, { readonly kind: 'dial' }>;

/** The slot a dial belongs to, and how it is set. */
export const slotAt = (
  { slots }: Layout,
  state: DeskState,
  place: DialAt,
): readonly [LayoutSlot, SlotState] => {
  const slot = slots[place.slot];
  if (!slot) throw new RangeError(`there is no slot ${place.slot}`);
  return [slot, slotOfState(state, place.bank, place.slot)];
};

const withSlot = (state: DeskState, { bank, slot }: DialAt, set: SlotState): DeskState =>
  state.with(bank, (state[bank] ?? []).with(slot, set));

/** Knobs that read otherwise than before, though nobody turned them. */
const movedKnobs = (slot: LayoutSlot, before: SlotState, after: SlotState) =>
  before.type === after.type
    ? []
    : knobScales(slot, after.type).flatMap(({ knob, scale }) => {
        const { text } = scale.at(after.steps[knob] ?? 0);
        return settingOf(slot, before, knob)?.text === text ? [] : [{ parameter: knob, display: text }];
      });

const oneOf = (args: readonly OscArgument[]): Result<OscArgument, string> => {
  const [argument] = args;
  return argument && args.length === 1
    ? ok(argument)
    : fail(`it came with ${args.length} arguments, and one is expected`);
};

const write = (layout: Layout, state: DeskState, message: OscMessage, place: DialAt, by: By): Taken => {
  const { address, args } = message;
  const { dial, output, bank } = place;
  const [slot, before] = slotAt(layout, state, place);
  const refuse = (why: string): Taken => ({
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
      outputs: layout.banks[bank] ?? [],
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
const told = (layout: Layout, state: DeskState, place: Place): Result<OscArgument, string> => {
  if (place.kind === 'name') return oscString(layout.nameOf(place.output));
  const setting = settingOf(...slotAt(layout, state, place), place.dial.name);
  return setting === null
    ? fail('what stands there cannot be told')
    : argumentFor(place.dial.encoding, setting);
};

/** Why a message without arguments leads to nothing. */
const notAsked = ({ desk: { target } }: Layout): string =>
  target.osc && canBeAsked(target)
    ? `it carries no value, and here ${askingWords(target.osc)}`
    : 'it is a question, and this desk answers none';

/** Takes one message: what the desk holds afterwards, what it answers, and what there is to record. */
export const take = (layout: Layout, state: DeskState, message: OscMessage, by: By): Taken => {
  const { address, args } = message;
  const ignore = (why: string): Taken => ({
    state,
    answer: null,
    event: { event: 'ignored', address, why },
  });
  const refuse = (why: string): Taken => ({
    state,
    answer: null,
    event: { event: 'refused', by, address, args, why },
  });
  if (!isOscAddress(address)) return ignore('it is a pattern, and this desk takes whole addresses');
  const asked = layout.questions.get(questionKey(message));
  if (asked) {
    const answer = told(layout, state, asked.place);
    if (!answer.ok) return refuse(answer.error);
    return {
      state,
      answer: { address: asked.answerAddress, args: [answer.value] },
      event: { event: 'read', address: asked.address, answer: answer.value },
    };
  }
  const place = layout.places.get(address);
  if (!place) {
    const isAskedThere = layout.questions.has(questionKey({ address, args: [] }));
    return ignore(
      isAskedThere ? 'values are asked for there without arguments' : 'this desk has no such address',
    );
  }
  if (args.length === 0) return ignore(notAsked(layout));
  return place.kind === 'name'
    ? refuse('the name of an output is for reading only')
    : write(layout, state, message, place, by);
};

/**
 * A message that turns the dial at an address to another setting than the one it has, picked by `random` among
 * all others. Null where there is nothing to turn.
 */
export const turnMessage = (
  layout: Layout,
  state: DeskState,
  address: string,
  random: () => number,
): OscMessage | null => {
  const place = layout.places.get(address);
  if (place?.kind !== 'dial') return null;
  const [slot, set] = slotAt(layout, state, place);
  const { name, encoding, scaleAs } = place.dial;
  const scale = scaleAs(set.type);
  const now = settingOf(slot, set, name);
  const others = scale.count - 1;
  const first = Math.floor(random() * others);
  // The desk may take one for another, or refuse it: looks alike, a type the slot has not. Then the next one.
  for (let tried = 0; tried < others; tried++) {
    const index = ((now?.index ?? -1) + 1 + ((first + tried) % others)) % scale.count;
    const argument = argumentFor(encoding, scale.at(index));
    if (!argument.ok) continue;
    const message = { address, args: [argument.value] };
    const after = take(layout, state, message, 'someone-else').state;
    if (settingOf(...slotAt(layout, after, place), name)?.index !== now?.index) return message;
  }
  return null;
};
