import { argumentFor } from '../osc/encodings/registry.js';
import type { OscMessage } from '../osc/message.js';
import type { Layout } from './address-map.js';
import { slotAt, take } from './apply-message.js';
import { type DeskState, settingOf } from './slot-state.js';

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
