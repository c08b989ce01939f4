import oscJs from 'osc-js';
import { ok, type Result } from '../units/result.js';
import { type OscArgument, type OscMessage, type OscTypeTag, oscMessage } from './message.js';
import { messageLayout } from './message-layout.js';

/** As much of a message of osc-js as is used. */
export interface WireMessage {
  address: string;
  types: string;
  args: unknown[];
  pack(): Uint8Array;
  unpack(view: DataView): number;
}

/** osc-js writes the low 8 bits of each character: UTF-8 goes through as one character a byte. */
const asWireString = (text: string): string =>
  Array.from(new TextEncoder().encode(text), (byte) => String.fromCharCode(byte)).join('');

/** osc-js takes a 64-bit zero for a missing value: it is packed as one, and cleared afterwards. */
const isLongZero = (argument: OscArgument): boolean =>
  (argument.type === 'h' || argument.type === 't') && argument.value === 0n;

const toWireValue = (argument: OscArgument): unknown => {
  if (!('value' in argument)) return argument.type === 'I' ? Number.POSITIVE_INFINITY : null;
  if (isLongZero(argument)) return 1n;
  return argument.type === 's' ? asWireString(argument.value) : argument.value;
};

const fromWireValue = (type: OscTypeTag, value: unknown): OscArgument => {
  if (type === 'T' || type === 'F' || type === 'N' || type === 'I') return { type };
  // What osc-js yields for a tag follows from the tag; the copy keeps a blob from holding on to its packet.
  return { type, value: value instanceof Uint8Array ? value.slice() : value } as OscArgument;
};

/** Encodes one message with osc-js, every type forced, and checks what came out. */
export const encodeMessage = (message: OscMessage, wire: WireMessage): Result<Uint8Array, string> => {
  const sound = oscMessage(message.address, message.args);
  if (!sound.ok) return sound;
  wire.address = message.address;
  wire.types = message.args.map(({ type }) => type).join('');
  wire.args = message.args.map(toWireValue);
  const bytes = wire.pack();

  const layout = messageLayout(bytes);
  if (!layout.ok || layout.value.address !== message.address || layout.value.tags !== wire.types) {
    throw new RangeError(`osc-js packed ${message.address} ,${wire.types} into something else.`);
  }
  message.args.forEach((argument, index) => {
    const position = layout.value.positions[index];
    if (position !== undefined && isLongZero(argument)) bytes.fill(0, position, position + 8);
  });
  return ok(bytes);
};

/** Decodes one message; osc-js reads only what has been checked to fill the packet exactly. */
export const decodeMessage = (bytes: Uint8Array, wire: WireMessage): Result<OscMessage, string> => {
  const layout = messageLayout(bytes);
  if (!layout.ok) return layout;
  const { address, tags } = layout.value;
  if (tags === '') return ok({ address, args: [] });
  // A copy, since osc-js reads from the start of the whole buffer wherever the packet lies in it.
  wire.unpack(new DataView(new Uint8Array(bytes).buffer));
  return ok({
    address,
    args: wire.args.map((value, index) => fromWireValue(tags[index] as OscTypeTag, value)),
  });
};

/**
 * A message of osc-js. One serves for all, since making one takes osc-js half as long as packing it, and both directions
 * set all that they look at.
 */
export const wireMessage = (): WireMessage => {
  // Declared as `{ default }`, it is the class itself at run time.
  const { Message } = oscJs as unknown as { readonly Message: new () => WireMessage };
  return new Message();
};
