import oscJs from 'osc-js';
import { quote } from '../units/quote.js';
import { fail, ok, type Result } from '../units/result.js';
import { type OscArgument, type OscMessage, type OscTypeTag, oscMessage } from './message.js';

/** A message's parts before any value is read: checked to fill the packet exactly, every pad byte zero. */
interface MessageLayout {
  readonly address: string;
  /** The type tags without their comma. */
  readonly tags: string;
  /** Where each argument begins, in bytes. */
  readonly positions: readonly number[];
}

/** Rounds a size up to the 4 bytes OSC aligns everything to. */
export const padded = (bytes: number): number => Math.ceil(bytes / 4) * 4;

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

const decodeUtf8 = (bytes: Uint8Array): string | null => {
  try {
    return utf8.decode(bytes);
  } catch {
    return null;
  }
};

const padFault = (bytes: Uint8Array, from: number, to: number, what: string): string | null => {
  if (to > bytes.length) return `The packet ends inside ${what}, at byte ${bytes.length}.`;
  return bytes.subarray(from, to).some((byte) => byte !== 0)
    ? `The padding after ${what}, from byte ${from}, is not zero.`
    : null;
};

/** An OSC string: bytes up to a NUL, padded with NULs to 4. ASCII by the standard; UTF-8 is taken too. */
const readString = (bytes: Uint8Array, from: number, what: string) => {
  const end = bytes.indexOf(0, from);
  if (end < 0) return fail(`The packet ends inside ${what}, which no NUL closes.`);
  const next = padded(end + 1);
  const fault = padFault(bytes, end, next, what);
  if (fault !== null) return fail(fault);
  const text = decodeUtf8(bytes.subarray(from, end));
  return text === null ? fail(`${what}, from byte ${from}, is not UTF-8.`) : ok({ text, next });
};

const fixedSizes: Readonly<Record<string, number>> = { i: 4, f: 4, d: 8, h: 8, t: 8, T: 0, F: 0, N: 0, I: 0 };

/** Where the argument after this one begins. */
const argumentEnd = (bytes: Uint8Array, from: number, tag: string, what: string): Result<number, string> => {
  if (tag === 's') {
    const read = readString(bytes, from, what);
    return read.ok ? ok(read.value.next) : read;
  }
  if (tag === 'b') {
    if (from + 4 > bytes.length) return fail(`The packet ends inside ${what}, at byte ${bytes.length}.`);
    const size = new DataView(bytes.buffer, bytes.byteOffset).getInt32(from);
    const rest = bytes.length - from - 4;
    if (size < 0 || size > rest) return fail(`${what} claims ${size} bytes, and ${rest} are left.`);
    const next = padded(from + 4 + size);
    const fault = padFault(bytes, from + 4 + size, next, what);
    return fault === null ? ok(next) : fail(fault);
  }
  const size = fixedSizes[tag];
  if (size === undefined) return fail(`${what} has the type tag ${quote(tag)}, which is not known.`);
  return from + size > bytes.length
    ? fail(`The packet ends inside ${what}, at byte ${bytes.length}.`)
    : ok(from + size);
};

/**
 * Walks one OSC message (OpenSoundControl 1.0, "OSC Messages"). Address patterns are let through; a message
 * that ends after its address, as senders older than type tags write it, has no arguments. The error is a
 * sentence that says what is wrong and at which byte.
 */
const messageLayout = (bytes: Uint8Array): Result<MessageLayout, string> => {
  if (bytes.length % 4 !== 0) return fail(`The packet has ${bytes.length} bytes, which is no multiple of 4.`);
  const head = readString(bytes, 0, 'the address');
  if (!head.ok) return head;
  const address = head.value.text;
  if (!/^\/[ -~]*$/.test(address)) {
    return fail(`The address ${quote(address)} is not printable ASCII that begins with "/".`);
  }
  if (head.value.next === bytes.length) return ok({ address, tags: '', positions: [] });

  const types = readString(bytes, head.value.next, 'the type tags');
  if (!types.ok) return types;
  if (!types.value.text.startsWith(',')) {
    return fail(
      `${quote(types.value.text)} stands where the type tags should, and does not begin with a comma.`,
    );
  }
  const tags = types.value.text.slice(1);
  const positions: number[] = [];
  let at = types.value.next;
  for (const tag of tags) {
    positions.push(at);
    const end = argumentEnd(bytes, at, tag, `argument ${positions.length}`);
    if (!end.ok) return end;
    at = end.value;
  }
  return at === bytes.length
    ? ok({ address, tags, positions })
    : fail(`${bytes.length - at} bytes follow the last argument.`);
};

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
 * A message of osc-js. One serves for all, since making one
 * takes osc-js half as long as packing it, and both directions set all that they look at.
 */
export const wireMessage = (): WireMessage => {
  // Declared as `{ default: { default } }`, it is the class itself at run time.
  const { Message } = oscJs as unknown as { readonly Message: new () => WireMessage };
  return new Message();
};
