import fc from 'fast-check';
import { immediately, type OscPacket } from '../../src/osc/codec.js';
import type { OscArgument, OscMessage } from '../../src/osc/message.js';

/** Text that UTF-8 can carry and that no NUL ends. */
const text = fc.string({ unit: 'binary', maxLength: 20 }).map((value) => value.replaceAll('\0', ''));

const argument: fc.Arbitrary<OscArgument> = fc.oneof(
  fc.integer().map((value) => ({ type: 'i' as const, value })),
  fc.float({ noNaN: true, noDefaultInfinity: true }).map((value) => ({ type: 'f' as const, value })),
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => ({ type: 'd' as const, value })),
  fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n - 1n }).map((value) => ({ type: 'h' as const, value })),
  fc.constant({ type: 'h' as const, value: 0n }),
  fc.bigInt({ min: 0n, max: 2n ** 64n - 1n }).map((value) => ({ type: 't' as const, value })),
  text.map((value) => ({ type: 's' as const, value })),
  fc.uint8Array({ maxLength: 12 }).map((value) => ({ type: 'b' as const, value: Uint8Array.from(value) })),
  fc.constantFrom<OscArgument>({ type: 'T' }, { type: 'F' }, { type: 'N' }, { type: 'I' }),
);

const addressPart = fc.stringMatching(/^[a-zA-Z0-9._-]{1,8}$/);

export const message: fc.Arbitrary<OscMessage> = fc.record({
  address: fc.array(addressPart, { minLength: 1, maxLength: 4 }).map((parts) => `/${parts.join('/')}`),
  args: fc.array(argument, { maxLength: 6 }),
});

/** Messages, and bundles up to three deep; all due at once, so that none is due before the one around it. */
export const packet: fc.Arbitrary<OscPacket> = fc.letrec<{ packet: OscPacket }>((tie) => ({
  packet: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    message,
    fc.record({ timeTag: fc.constant(immediately), elements: fc.array(tie('packet'), { maxLength: 3 }) }),
  ),
})).packet;
