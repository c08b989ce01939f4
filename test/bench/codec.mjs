import { decode, encode, Message } from 'node-osc';
import { fromBuffer, toBuffer } from 'osc-min';
import { makeOscCodec } from '../../dist/index.js';
import { interleave, median } from './rounds.mjs';

/** Messages in one measurement, so that it lasts milliseconds. */
const calls = 4000;

/** What a push sends for a slot, value and question in turn; no d and no h, which node-osc does not write. */
const slotMessages = (output, slot) => {
  const at = (name) => `/output/${output}/filter/${slot}/${name}`;
  return [
    { address: at('type'), args: [{ type: 's', value: 'peaking' }] },
    { address: at('type'), args: [] },
    { address: at('frequency'), args: [{ type: 'f', value: 19320 + output }] },
    { address: at('frequency'), args: [] },
    { address: at('gain'), args: [{ type: 'f', value: -4.5 - slot / 8 }] },
    { address: at('gain'), args: [] },
    { address: at('on'), args: [{ type: 'i', value: 1 }] },
    { address: at('on'), args: [] },
  ];
};

const messages = Array.from({ length: 8 }, (_, i) => slotMessages(1 + (i >> 1), 1 + (i & 1))).flat();

const oscMinTypes = { s: 'string', f: 'float', i: 'integer' };

const hex = (bytes) => Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('hex');
const values = ({ address, args }) => JSON.stringify([address, ...args.map(({ value }) => value)]);

/** Each library with its input made ahead, in the form it takes. */
const codecs = async () => {
  const ours = makeOscCodec();
  const packets = messages.map((message) => ours.encode(message).value);
  const buffers = packets.map((packet) => Buffer.from(packet));
  const forOscMin = messages.map(({ address, args }) => ({
    address,
    args: args.map(({ type, value }) => ({ type: oscMinTypes[type], value })),
  }));
  const forNodeOsc = messages.map(({ address, args }) => new Message(address, ...args));
  return {
    ours: {
      encode: (i) => ours.encode(messages[i]),
      decode: (i) => ours.decode(packets[i]),
      told: ({ value }) => value,
    },
    'osc-min': { encode: (i) => toBuffer(forOscMin[i]), decode: (i) => fromBuffer(packets[i]) },
    'node-osc': { encode: (i) => encode(forNodeOsc[i]), decode: (i) => decode(buffers[i]) },
  };
};

/** Whoever compares speeds must know that all do the same. */
const checkSame = (each, name, ours) => {
  const told = each.told ?? ((result) => result);
  for (let i = 0; i < messages.length; i++) {
    const same =
      hex(told(each.encode(i))) === hex(ours.told(ours.encode(i))) &&
      values(told(each.decode(i))) === values(messages[i]);
    if (!same) throw new Error(`${name} does something else with ${JSON.stringify(messages[i])}`);
  }
};

/** Messages per second to bytes and back, our codec beside two other libraries, for the same messages. */
export const measureCodec = async (rounds) => {
  const all = await codecs();
  for (const [name, each] of Object.entries(all)) checkSame(each, name, all.ours);
  const measured = [];
  for (const direction of ['encode', 'decode']) {
    const tasks = Object.fromEntries(
      Object.entries(all).map(([name, each]) => {
        const call = each[direction];
        return [
          name,
          () => {
            for (let i = 0; i < calls; i++) call(i % messages.length);
          },
        ];
      }),
    );
    const milliseconds = await interleave(tasks, rounds);
    const perSecond = Object.fromEntries(
      Object.entries(milliseconds).map(([name, taken]) => [name, (1000 * calls) / median(taken)]),
    );
    measured.push({ direction, calls, perSecond, milliseconds });
  }
  return measured;
};
