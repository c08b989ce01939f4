import { isBundle, makeOscCodec, type OscCodec } from '../../src/osc/codec.js';
import type { OscMessage } from '../../src/osc/message.js';

/** So many packets are kept; then it begins anew. */
const most = 20_000;

const remembering = <Asked, Answer>(
  keyOf: (asked: Asked) => string | null,
  work: (asked: Asked) => Answer,
): ((asked: Asked) => Answer) => {
  const known = new Map<string, Answer>();
  return (asked) => {
    const key = keyOf(asked);
    if (key === null) return work(asked);
    const answer = known.get(key) ?? work(asked);
    if (known.size >= most) known.clear();
    known.set(key, answer);
    return answer;
  };
};

/** Told apart by type and value, zero from minus zero and "1" from 1 too. */
const keyOfMessage = ({ address, args }: OscMessage): string =>
  args.reduce((key, arg) => {
    const value = 'value' in arg ? arg.value : null;
    return `${key}\u0000${arg.type} ${Object.is(value, -0) ? '-0' : String(value)}`;
  }, address);

/**
 * The codec, which works each packet out once: hours of a watch ask the same questions over and over, and packets are
 * what they spend most on. What it gives is shared, and nobody writes to it.
 */
export const makeRememberingCodec = (): OscCodec => {
  const { encode, decode } = makeOscCodec();
  return {
    encode: remembering((packet) => (isBundle(packet) ? null : keyOfMessage(packet)), encode),
    decode: remembering(
      (bytes) => Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString('latin1'),
      decode,
    ),
  };
};
