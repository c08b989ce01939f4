import { createSocket } from 'node:dgram';
import { connect as connectSocket, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { type Server, serve } from '../../../src/node/network/serve.js';
import { framingOf } from '../../../src/osc/framing/registry.js';
import { hex } from '../../osc/bytes.js';
import { closeAll, closeLater, connected, first, kinds, serving, streams, until } from './sockets.js';

afterEach(closeAll);

const client = async (port: number): Promise<Socket> => {
  const socket = connectSocket({ host: '127.0.0.1', port });
  socket.on('error', () => {});
  closeLater({ close: () => socket.destroy() });
  await new Promise((resolve) => socket.once('connect', resolve));
  return socket;
};

/** That somebody else is still served. */
const expectServed = async (server: Server, kind: (typeof kinds)[number]): Promise<void> => {
  const transport = await connected(kind, server.port);
  const answer = first(1, transport.onPacket);
  await transport.send(hex('2f6f6b00'));
  expect((await answer).map((packet) => [...packet])).toEqual([[...hex('2f6f6b00')]]);
};

const echo = async (kind: (typeof kinds)[number]): Promise<Server> => {
  const server = await serving(kind);
  server.onPacket((packet, reply) => reply(packet));
  return server;
};

const problemOf = async (options: Parameters<typeof serve>[0]) => {
  const outcome = await serve(options);
  return outcome.ok ? undefined : outcome.error[0];
};

describe.each(kinds)('listening by %s', (kind) => {
  it('says which port cannot be had, and what to do', async () => {
    const { port } = await serving(kind);
    const told = await problemOf({ kind, port, bind: '127.0.0.1' });
    expect(told?.code).toBe('port-unavailable');
    expect(told?.message).toBe(
      `Cannot listen at 127.0.0.1:${port}: another program has it. Close that, or give another port; 0 takes any that is free.`,
    );
  });

  it.each([
    ['an address of another computer', '192.0.2.77', 0, 'port-unavailable', 'none of this computer'],
    ['a port that is none', '127.0.0.1', 65536, 'port-unavailable', 'from 0 to 65535'],
    ['half a port', '127.0.0.1', 1.5, 'port-unavailable', 'from 0 to 65535'],
    ['no name', 'a\nb', 0, 'destination-unreadable', 'no name'],
    ['a name nobody knows', 'desk.invalid', 0, 'host-unknown', 'cannot be looked up'],
  ])('is a problem at %s', async (_, bind, port, code, words) => {
    const told = await problemOf({ kind, port, bind });
    expect(told?.code).toBe(code);
    expect(told?.message).toContain(words);
  });

  it.each([
    ['localhost', '127.0.0.1'],
    ['0.0.0.0', '0.0.0.0'],
  ])('listens at %s', async (bind, address) => {
    const server = await serving(kind, bind);
    expect(server.bind).toBe(address);
    server.onPacket((packet, reply) => reply(packet));
    await expectServed(server, kind);
  });

  it('lets go of the port when it is closed, with clients there; twice is no harm', async () => {
    const server = await echo(kind);
    await expectServed(server, kind);
    await server.close();
    await server.close();
    expect(await problemOf({ kind, port: server.port, bind: '127.0.0.1' }).then((told) => told?.code)).toBe(
      undefined,
    );
  });

  it('drops answers to whoever has gone', async () => {
    const server = await serving(kind);
    const replies: ((packet: Uint8Array) => void)[] = [];
    server.onPacket((_, reply) => replies.push(reply));
    const gone = await connected(kind, server.port);
    await gone.send(hex('2f610000'));
    await until(() => replies.length === 1);
    await gone.close();
    for (let count = 0; count < 100; count++) replies[0]?.(hex('2f610000'));
    await new Promise((resolve) => setTimeout(resolve, 20));
    replies[0]?.(hex('2f610000'));
    server.onPacket((packet, reply) => reply(packet));
    await expectServed(server, kind);
    await server.close();
    replies[0]?.(hex('2f610000'));
  });
});

describe.each(streams)('clients by %s', (kind) => {
  it('that send rubbish harm nobody', async () => {
    const server = await echo(kind);
    const faults: string[] = [];
    server.onFault((sentence) => faults.push(sentence));
    const socket = await client(server.port);
    socket.write(kind === 'tcp-slip' ? hex('c0db00c0') : hex('ffffffff'));
    await until(() => faults.length > 0);
    expect(faults[0]).toMatch(/^From 127\.0\.0\.1:\d+: (One SLIP frame was dropped|The stream announces)/);
    await expectServed(server, kind);
  });

  it('that vanish half-way through a packet harm nobody', async () => {
    const server = await echo(kind);
    const faults: string[] = [];
    server.onFault((sentence) => faults.push(sentence));
    const socket = await client(server.port);
    socket.write(hex(kind === 'tcp-slip' ? 'c02f61' : '000000082f61'));
    await new Promise((resolve) => setTimeout(resolve, 20));
    socket.resetAndDestroy();
    await until(() => faults.length > 0);
    expect(faults[0]).toContain('has gone: the connection was reset by the other side');
    await expectServed(server, kind);
  });

  it('that never read are cut off, and hold no more than they may', async () => {
    const server = await serving(kind);
    const faults: string[] = [];
    server.onFault((sentence) => faults.push(sentence));
    server.onPacket((_, reply) => {
      for (let count = 0; count < 200; count++) reply(new Uint8Array(65_000));
    });
    const socket = await client(server.port);
    socket.pause();
    socket.write(framingOf(kind).frame(hex('2f610000')));
    await until(() => faults.length > 0);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toContain('does not read what it is answered, and was cut off');
  });
});

it('a flood of datagrams that are no OSC reaches the listener as it is, and nobody is harmed', async () => {
  const server = await echo('udp');
  const heard: number[] = [];
  server.onPacket((packet) => heard.push(packet.length));
  const socket = closeLater(createSocket('udp4'));
  for (const length of [0, 1, 3, 4, 1472, 65_507]) {
    await new Promise((resolve) => socket.send(new Uint8Array(length), server.port, '127.0.0.1', resolve));
  }
  await until(() => heard.length === 6);
  expect(heard).toEqual([0, 1, 3, 4, 1472, 65_507]);
  await expectServed(server, 'udp');
});
