import { createSocket } from 'node:dgram';
import { afterEach, describe, expect, it } from 'vitest';
import { connect } from '../../../src/node/network/connect.js';
import { hex } from '../../osc/bytes.js';
import {
  closeAll,
  closeLater,
  connected,
  deafPort,
  first,
  firstFault,
  kinds,
  plainServer,
  serving,
  streams,
  until,
  valueIn,
} from './sockets.js';

afterEach(closeAll);

const problemOf = async (options: Parameters<typeof connect>[0]) => {
  const outcome = await connect(options);
  if (outcome.ok) throw new Error('connected');
  return outcome.error[0];
};

const toCheck = 'Check that the desk is on, that OSC is switched on there, the address and the port';

describe.each(kinds)('a way by %s', (kind) => {
  const options = { kind, address: '127.0.0.1', port: 9, timeoutMs: 2000 };

  it.each([
    '255.255.255.255',
    '127.255.255.255',
    '224.0.0.1',
    '0.0.0.0',
    '::',
    'ff02::1',
    '::ffff:224.0.0.1',
  ])('is not opened to %s unless told', async (address) => {
    expect((await problemOf({ ...options, address }))?.code).toBe('destination-refused');
  });

  it.each([
    ['a name', 'localhost', 9],
    ['port 0', '127.0.0.1', 0],
    ['a port that is none', '127.0.0.1', 65536],
    ['half a port', '127.0.0.1', 9000.5],
  ])('is not opened to %s', async (_, address, port) => {
    expect((await problemOf({ ...options, address, port }))?.code).toBe('destination-unreadable');
  });

  it('is not opened after an interruption', async () => {
    const told = await problemOf({ ...options, signal: AbortSignal.abort() });
    expect(told?.code).toBe('desk-unreachable');
    expect(told?.message).toContain('it was interrupted');
  });
});

describe.each(streams)('a stream by %s', (kind) => {
  it('is refused where nothing listens, and says what to check', async () => {
    const port = await deafPort();
    const told = await problemOf({ kind, address: '127.0.0.1', port, timeoutMs: 2000 });
    expect(told?.code).toBe('desk-unreachable');
    expect(told?.message).toContain(`127.0.0.1:${port} by TCP`);
    expect(told?.message).toContain('the connection was refused');
    expect(told?.message).toContain(toCheck);
  });

  it('ends with a fault when the other side closes, and nothing can be sent any more', async () => {
    const port = await plainServer((client) => client.end());
    const transport = await connected(kind, port);
    const fault = await firstFault(transport);
    expect(fault.ended).toBe(true);
    expect(fault.problem.message).toContain('the other side has closed the connection');
    const sent = await transport.send(hex('2f610000'));
    expect(sent.ok ? null : sent.error).toEqual([fault.problem]);
    await transport.close();
  });

  it('ends with one fault when the connection is reset', async () => {
    const port = await plainServer((client) => client.once('data', () => client.resetAndDestroy()));
    const transport = await connected(kind, port);
    const faults: boolean[] = [];
    transport.onFault(({ ended }) => faults.push(ended));
    await transport.send(hex('2f610000'));
    await until(() => faults.length > 0);
    await transport.close();
    expect(faults).toEqual([true]);
  });

  it('keeps an ending for whoever listens later', async () => {
    let isOver = false;
    const port = await plainServer((client) => {
      client.on('close', () => (isOver = true)).resume();
      client.end();
    });
    const transport = await connected(kind, port);
    await until(() => isOver);
    expect((await firstFault(transport)).ended).toBe(true);
  });

  it('ends when nothing is taken any more, with a failure for each packet that may not have left', async () => {
    const port = await plainServer((client) => client.pause());
    const transport = closeLater(
      valueIn(await connect({ kind, address: '127.0.0.1', port, timeoutMs: 200 })),
    );
    const ending = firstFault(transport);
    const packet = new Uint8Array(65_000).fill(1);
    const outcomes = [];
    // More than the buffers of both ends hold together.
    for (let count = 0; count < 1000; count++) {
      outcomes.push(await transport.send(packet));
      if (!outcomes.at(-1)?.ok) break;
    }
    expect(outcomes.length).toBeGreaterThan(1);
    expect(outcomes.at(-1)?.ok).toBe(false);
    const { ended, problem } = await ending;
    expect(ended).toBe(true);
    expect(problem.message).toContain('it took nothing for 200 ms');
  });
});

it('a SLIP stream tells of a spoilt frame and goes on', async () => {
  const port = await plainServer((client) => client.write(hex('c0 2f db 00 c0 c0 2f610000 c0')));
  const transport = await connected('tcp-slip', port);
  const fault = firstFault(transport);
  const packets = first(1, transport.onPacket);
  expect((await fault).ended).toBe(false);
  expect((await fault).problem.message).toContain('One SLIP frame was dropped');
  expect(await packets).toEqual([hex('2f610000')]);
});

it('a stream with length prefixes is closed when it cannot be followed', async () => {
  let seen: 'open' | 'closed' = 'open';
  const port = await plainServer((client) => {
    client.on('close', () => (seen = 'closed'));
    client.write(hex('00000004 2f610000 ffffffff'));
  });
  const transport = await connected('tcp-length-prefix', port);
  const packets = first(1, transport.onPacket);
  const faults = first(2, transport.onFault);
  expect((await packets)[0]).toEqual(hex('2f610000'));
  expect((await faults).map(({ ended }) => ended)).toEqual([false, true]);
  expect((await faults)[0]?.problem.message).toContain('a packet of -1 bytes');
  await until(() => seen === 'closed');
});

describe('datagrams', () => {
  it('that are refused are told as faults, and are no end', async () => {
    const port = await deafPort();
    const transport = await connected('udp', port);
    const fault = firstFault(transport);
    expect((await transport.send(hex('2f610000'))).ok).toBe(true);
    const { ended, problem, refused } = await fault;
    expect([ended, refused]).toEqual([false, true]);
    expect(problem.code).toBe('desk-unreachable');
    expect(problem.message).toContain(`127.0.0.1:${port} by UDP: the connection was refused`);
    expect(problem.message).toContain(toCheck);
  });

  it('are sent though the one before was refused', async () => {
    const transport = await connected('udp', await deafPort());
    const faults: boolean[] = [];
    transport.onFault(({ ended }) => faults.push(ended));
    const sent = await Promise.all([1, 2].map((byte) => transport.send(Uint8Array.of(byte))));
    expect(sent.map(({ ok }) => ok)).toEqual([true, true]);
    await until(() => faults.length > 0);
    expect(faults).not.toContain(true);
  });

  it('reach a desk that is switched on after some were refused, none of them swallowed', async () => {
    const port = await deafPort();
    const transport = await connected('udp', port);
    for (let index = 0; index < 5; index++) await transport.send(Uint8Array.of(0, 0, 0, index));
    const desk = closeLater(createSocket('udp4'));
    await new Promise<void>((resolve) => desk.bind(port, '127.0.0.1', resolve));
    const heard = first(5, (listener) => desk.on('message', listener as (packet: Buffer) => void));
    for (let index = 5; index < 10; index++) {
      expect((await transport.send(Uint8Array.of(0, 0, 0, index))).ok).toBe(true);
    }
    expect((await heard).map((packet) => (packet as Buffer)[3])).toEqual([5, 6, 7, 8, 9]);
  });

  it('too large for the network are a problem, not an exception', async () => {
    const server = await serving('udp');
    const transport = await connected('udp', server.port);
    const sent = await transport.send(new Uint8Array(65_508));
    expect(sent.ok ? '' : sent.error[0]?.message).toContain('the packet is too large for a datagram there');
    expect((await transport.send(new Uint8Array(65_504))).ok).toBe(true);
  });

  it('from strangers are not heard', async () => {
    const [desk, stranger] = [createSocket('udp4'), createSocket('udp4')].map(closeLater);
    if (!desk || !stranger) throw new Error('no sockets');
    await new Promise<void>((resolve) => desk.bind(0, '127.0.0.1', resolve));
    desk.on('message', (_, from) =>
      stranger.send(Uint8Array.of(9), from.port, '127.0.0.1', () =>
        desk.send(Uint8Array.of(1), from.port, '127.0.0.1'),
      ),
    );
    const transport = await connected('udp', desk.address().port);
    const packets = first<Uint8Array>(1, transport.onPacket);
    await transport.send(Uint8Array.of(0));
    expect((await packets).map(([byte]) => byte)).toEqual([1]);
  });

  it('reach many when that is allowed, and whoever answers from that port is heard', async () => {
    // 127.255.255.255 is the broadcast address of 127.0.0.0/8 (RFC 919): it leaves this computer on no cable.
    const desk = closeLater(createSocket('udp4'));
    await new Promise<void>((resolve) => desk.bind(0, resolve));
    const { port } = desk.address();
    desk.on('message', (packet, from) => desk.send(packet, from.port, '127.0.0.1'));
    const options = { kind: 'udp', address: '127.255.255.255', port, timeoutMs: 500 } as const;
    const transport = closeLater(valueIn(await connect({ ...options, allowBroadcast: true })));
    const heard = first(1, transport.onPacket);
    expect((await transport.send(hex('2f610000'))).ok).toBe(true);
    expect(await heard).toEqual([Buffer.from(hex('2f610000'))]);
  });
});
