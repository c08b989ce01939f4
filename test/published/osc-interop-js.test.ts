// Two JavaScript OSC libraries at one end of a real socket, ours at the other: node-osc 11.7.1, with its own
// datagram client and server, and osc-min 2.1.2, for the types node-osc does not know (d, h). On streams their
// packets go through slip 1.0.2, or behind a length written here by hand.
import { createSocket } from 'node:dgram';
import { connect as connectSocket } from 'node:net';
import { Client, decode, encode, Message, Server } from 'node-osc';
import { fromBuffer, toBuffer } from 'osc-min';
import slip from 'slip';
import { afterEach, describe, expect, it } from 'vitest';
import type { OscArgument } from '../../src/osc/message.js';
import {
  closeAll,
  closeLater,
  connected,
  first,
  plainServer,
  serving,
  streams,
} from '../node/network/sockets.js';
import { codec, encoded } from '../osc/bytes.js';

afterEach(closeAll);

const address = '/mix/3/filter/2';

interface Case {
  readonly ours: OscArgument | null;
  /** Their packet, and what they read in ours. */
  readonly write: () => Uint8Array;
  readonly read: (packet: Uint8Array) => unknown;
  readonly literal: unknown;
}

const nodeOsc = (ours: OscArgument | null, literal: unknown, ...args: unknown[]): Case => ({
  ours,
  write: () => encode(new Message(address, ...(args as string[]))),
  read: (packet) => {
    const told = decode(Buffer.from(packet));
    return [told.address, ...told.args.map(({ value }: { value: unknown }) => value)];
  },
  literal,
});

const oscMin = (ours: OscArgument, type: 'double' | 'bigint', value: number | bigint): Case => ({
  ours,
  write: () => {
    const view = toBuffer({ address, args: [{ type, value } as { type: 'bigint'; value: bigint }] });
    return new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
  },
  read: (packet) => {
    const told = fromBuffer(packet);
    return 'args' in told ? [told.address, ...told.args] : told;
  },
  literal: [address, { type, value }],
});

const cases: readonly [string, Case][] = [
  ['node-osc: no argument', nodeOsc(null, [address])],
  ['node-osc: f', nodeOsc({ type: 'f', value: 19320 }, [address, 19320], { type: 'f', value: 19320 })],
  ['node-osc: f below zero', nodeOsc({ type: 'f', value: -4.5 }, [address, -4.5], -4.5)],
  ['node-osc: i', nodeOsc({ type: 'i', value: 199 }, [address, 199], 199)],
  // C0 DB DC DD on the wire: all that SLIP escapes.
  ['node-osc: i to escape', nodeOsc({ type: 'i', value: -1059332899 }, [address, -1059332899], -1059332899)],
  ['node-osc: s', nodeOsc({ type: 's', value: 'Bühne 1' }, [address, 'Bühne 1'], 'Bühne 1')],
  ['osc-min: d', oscMin({ type: 'd', value: 0.1 }, 'double', 0.1)],
  ['osc-min: h', oscMin({ type: 'h', value: 9007199254740993n }, 'bigint', 9007199254740993n)],
];

const oursOf = ({ ours }: Case) => ({ address, args: ours ? [ours] : [] });

/** A stream's packets told apart by hand or by the `slip` package, and the bytes that carry one. */
const theirStreams = {
  'tcp-slip': {
    frame: (packet: Uint8Array): Uint8Array => slip.encode(packet),
    split: (onPacket: (packet: Uint8Array) => void) => {
      const decoder = new slip.Decoder({ onMessage: onPacket });
      return (chunk: Buffer): void => decoder.decode(chunk);
    },
  },
  'tcp-length-prefix': {
    frame: (packet: Uint8Array): Uint8Array => {
      const size = Buffer.alloc(4);
      size.writeInt32BE(packet.length);
      return Buffer.concat([size, packet]);
    },
    split: (onPacket: (packet: Uint8Array) => void) => {
      let held = Buffer.alloc(0);
      return (chunk: Buffer): void => {
        held = Buffer.concat([held, chunk]);
        while (held.length >= 4 && held.length >= 4 + held.readInt32BE()) {
          const size = held.readInt32BE();
          onPacket(held.subarray(4, 4 + size));
          held = held.subarray(4 + size);
        }
      };
    },
  },
};

describe.each(streams)('their packets on a stream with %s', (kind) => {
  const { frame, split } = theirStreams[kind];

  it.each(cases)('%s: to our server and back', async (_, each) => {
    const server = await serving(kind);
    const asked = first<Uint8Array>(1, (listener) =>
      server.onPacket((packet, reply) => {
        listener(packet);
        reply(encoded(oursOf(each)));
      }),
    );
    const socket = connectSocket({ host: '127.0.0.1', port: server.port });
    closeLater({ close: () => socket.destroy() });
    const answered = first<Uint8Array>(1, (listener) => socket.on('data', split(listener)));
    socket.write(frame(each.write()));
    expect((await asked).map(codec.decode)).toEqual([{ ok: true, value: oursOf(each) }]);
    expect((await answered).map(each.read)).toEqual([each.literal]);
  });

  it.each(cases)('%s: from our transport and back', async (_, each) => {
    let read: unknown = null;
    const port = await plainServer((client) => {
      const answer = (packet: Uint8Array): void => {
        read = each.read(packet);
        client.write(frame(each.write()));
      };
      client.on('data', split(answer));
    });
    const transport = await connected(kind, port);
    const answered = first<Uint8Array>(1, transport.onPacket);
    await transport.send(encoded(oursOf(each)));
    expect((await answered).map(codec.decode)).toEqual([{ ok: true, value: oursOf(each) }]);
    expect(read).toEqual(each.literal);
  });
});

describe('their packets as datagrams', () => {
  it.each(cases)('%s: to our server and back', async (_, each) => {
    const server = await serving('udp');
    const asked = first<Uint8Array>(1, (listener) =>
      server.onPacket((packet, reply) => {
        listener(packet);
        reply(encoded(oursOf(each)));
      }),
    );
    const socket = closeLater(createSocket('udp4'));
    const answered = first<Uint8Array>(1, (listener) => socket.on('message', (packet) => listener(packet)));
    socket.send(each.write(), server.port, '127.0.0.1');
    expect((await asked).map(codec.decode)).toEqual([{ ok: true, value: oursOf(each) }]);
    expect((await answered).map(each.read)).toEqual([each.literal]);
  });
});

describe("node-osc's own client and server", () => {
  const told = ['/mix/3/filter/2', 19320.5, 199, 'Bühne 1'];
  const args: readonly OscArgument[] = [
    { type: 'f', value: 19320.5 },
    { type: 'i', value: 199 },
    { type: 's', value: 'Bühne 1' },
  ];

  it('the client reaches our server', async () => {
    const server = await serving('udp');
    const heard = first<Uint8Array>(2, (listener) => server.onPacket((packet) => listener(packet)));
    const client = closeLater(new Client('127.0.0.1', server.port));
    await client.send('/mix/3/filter/2', 19320.5, 199, 'Bühne 1');
    await client.send('/mix/3/filter/2');
    expect((await heard).map(codec.decode)).toEqual([
      { ok: true, value: { address, args } },
      { ok: true, value: { address, args: [] } },
    ]);
  });

  it('our transport reaches the server, and its answer comes back', async () => {
    const desk = closeLater(new Server(0, '127.0.0.1'));
    await new Promise((resolve) => desk.on('listening', resolve));
    const heard = first<unknown>(2, (listener) =>
      desk.on('message', (message, from) => {
        listener([...message]);
        void desk.send([...message], from.port, from.address);
      }),
    );
    const transport = await connected('udp', desk.port);
    const answers = first<Uint8Array>(2, transport.onPacket);
    await transport.send(encoded({ address, args }));
    await transport.send(encoded({ address, args: [] }));
    expect(await heard).toEqual([told, [address]]);
    expect((await answers).map(codec.decode)).toEqual([
      { ok: true, value: { address, args } },
      { ok: true, value: { address, args: [] } },
    ]);
  });
});
