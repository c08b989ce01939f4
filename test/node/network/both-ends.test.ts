import { networkInterfaces } from 'node:os';
import { afterEach, describe, expect, it } from 'vitest';
import { codec, encoded, hex } from '../../osc/bytes.js';
import { closeAll, connected, first, kinds, serving } from './sockets.js';

afterEach(closeAll);

const hasIpv6 = Object.values(networkInterfaces())
  .flatMap((each) => each ?? [])
  .some(({ address }) => address === '::1');
if (!hasIpv6) process.stderr.write('Not tried: IPv6, since this computer has no ::1.\n');

const places: readonly [string, boolean][] = [
  ['127.0.0.1', true],
  ['::1', hasIpv6],
];

describe.each(kinds)('%s', (kind) => {
  describe.each(places)('at %s', (address, isThere) => {
    it.runIf(isThere)('takes packets both ways, in order, whatever bytes they hold', async () => {
      const server = await serving(kind, address);
      expect(server.bind).toBe(address);
      server.onPacket((packet, reply) => reply(packet));
      const transport = await connected(kind, server.port, address);
      const sent = Array.from({ length: 64 }, (_, index) =>
        Uint8Array.of(index, 0xc0, 0xdb, 0xdc, 0xdd, 0, 0, index),
      );
      const heard = first(sent.length, transport.onPacket);
      for (const packet of sent) expect(await transport.send(packet)).toEqual({ ok: true, value: undefined });
      expect((await heard).map((packet) => [...packet])).toEqual(sent.map((packet) => [...packet]));
      await transport.close();
      await server.close();
    });
  });

  it('says where it leads', async () => {
    const server = await serving(kind);
    const transport = await connected(kind, server.port);
    expect(transport.kind).toBe(kind);
    const words = {
      udp: 'UDP',
      'tcp-slip': 'TCP with SLIP',
      'tcp-length-prefix': 'TCP with length prefixes',
    };
    expect(transport.destination).toBe(`127.0.0.1:${server.port} by ${words[kind]}`);
  });

  it('sends what is under way before it closes, and nothing afterwards', async () => {
    const server = await serving(kind);
    const heard = first<Uint8Array>(20, (listener) => server.onPacket((packet) => listener(packet)));
    const transport = await connected(kind, server.port);
    const sends = Array.from({ length: 20 }, (_, index) => transport.send(Uint8Array.of(1, 2, 3, index)));
    await transport.close();
    await transport.close();
    expect((await Promise.all(sends)).every(({ ok }) => ok)).toBe(true);
    expect((await heard).map((packet) => packet[3])).toEqual(Array.from({ length: 20 }, (_, index) => index));
    const late = await transport.send(Uint8Array.of(1));
    expect(late.ok ? '' : late.error[0]?.message).toContain('has been closed here');
  });

  it('hears answers in the middle of a row of sends', async () => {
    const server = await serving(kind);
    server.onPacket((packet, reply) => reply(packet));
    const transport = await connected(kind, server.port);
    let heard = 0;
    transport.onPacket(() => heard++);
    for (let count = 0; count < 2000 && heard === 0; count++) await transport.send(hex('2f610000'));
    expect(heard).toBeGreaterThan(0);
  });

  it('tells packets of many clients apart', async () => {
    const server = await serving(kind);
    server.onPacket((packet, reply) => {
      const asked = codec.decode(packet);
      if (asked.ok && 'args' in asked.value) reply(encoded({ ...asked.value, address: '/answer' }));
    });
    const answers = await Promise.all(
      Array.from({ length: 200 }, async (_, index) => {
        const transport = await connected(kind, server.port);
        const answer = first(1, transport.onPacket);
        await transport.send(encoded({ address: '/question', args: [{ type: 'i', value: index }] }));
        const [packet = hex('')] = await answer;
        return codec.decode(packet);
      }),
    );
    expect(answers).toEqual(
      answers.map((_, index) => ({
        ok: true,
        value: { address: '/answer', args: [{ type: 'i', value: index }] },
      })),
    );
  });
});
