import { spawn } from 'node:child_process';
import { createSocket } from 'node:dgram';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import fc from 'fast-check';
import { toBuffer } from 'osc-min';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openSession } from '../../../src/live/session/open-session.js';
import { usualRetryPolicy } from '../../../src/live/session/session.js';
import type { OscTransport } from '../../../src/model/target.js';
import { systemClock } from '../../../src/node/network/clock.js';
import { connect } from '../../../src/node/network/connect.js';
import { makeOscCodec } from '../../../src/osc/codec.js';
import { askLog179, oscClient } from '../osc-client.js';
import { binary, environment } from '../run.js';

/*
 * Rubbish for our sockets: random bytes, sound packets cut short, and sound packets with bytes changed; 28 000 for each
 * way OSC travels to the stand-in, and 28 000 to the socket a push listens on. None of them may bring a program down,
 * keep it from answering, or stay in its memory. Sound packets are osc-min's.
 */

const packets = 28_000;
/** So many at once fit into the buffers of a socket, so that all of them are taken in. */
const burst = 80;

const bytesOf = (view: DataView): Uint8Array => new Uint8Array(view.buffer, view.byteOffset, view.byteLength);

const sound: readonly Uint8Array[] = [
  toBuffer({ address: '/mix/1/filter/2/frequency', args: [{ type: 'float', value: 0.5 }] }),
  toBuffer({ address: '/mix/1/filter/2/type', args: [{ type: 'integer', value: 2 }] }),
  toBuffer({ address: '/ask/mix/1/name', args: [] }),
  toBuffer({ address: '/a', args: [{ type: 'blob', value: new DataView(new ArrayBuffer(7)) }] }),
  toBuffer({
    timetag: [1, 1],
    elements: [
      { address: '/mix/2/filter/1/on', args: [{ type: 'integer', value: 1 }] },
      { timetag: [2, 2], elements: [] },
    ],
  }),
].map(bytesOf);

const rubbish: fc.Arbitrary<Uint8Array> = fc.oneof(
  fc.uint8Array({ minLength: 1, maxLength: 200 }),
  fc
    .tuple(fc.constantFrom(...sound), fc.nat())
    .map(([packet, cut]) => packet.slice(0, 1 + (cut % packet.length))),
  fc
    .tuple(
      fc.constantFrom(...sound),
      fc.array(fc.tuple(fc.nat(), fc.nat({ max: 255 })), { minLength: 1, maxLength: 4 }),
    )
    .map(([packet, changes]) => {
      const changed = packet.slice();
      for (const [at, byte] of changes) changed[at % changed.length] = byte;
      return changed;
    }),
);

/** The same rubbish every time, in bursts. */
const bursts = (seed: number): readonly (readonly Uint8Array[])[] => {
  const all = fc.sample(rubbish, { numRuns: packets, seed });
  return Array.from({ length: packets / burst }, (_, index) => all.slice(index * burst, (index + 1) * burst));
};

/** The memory of a process, where the system tells; null elsewhere. */
const residentBytes = (pid: number | undefined): number | null => {
  try {
    const [, kilobytes] = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? [];
    return kilobytes === undefined ? null : Number(kilobytes) * 1024;
  } catch {
    return null;
  }
};

const mebibyte = 2 ** 20;

describe('rubbish', () => {
  it.each<OscTransport>(['udp', 'tcp-slip', 'tcp-length-prefix'])(
    'harms no stand-in that listens by %s',
    async (kind) => {
      const args = ['standin', '--target', 'log-179', '--transport', kind, '--port', '0', '--json'];
      const desk = spawn(process.execPath, [binary, ...args], { env: environment() });
      onTestFinished(() => void desk.kill('SIGKILL'));
      const [first] = (await once(desk.stdout, 'data')) as [Buffer];
      desk.stdout.resume();
      const { port } = JSON.parse(first.toString().split('\n')[0] ?? '') as { port: number };
      const client = await oscClient(kind, port);

      const all = bursts(11);
      let settledBytes: number | null = null;
      for (const [index, some] of all.entries()) {
        for (const packet of some) client.sendBytes(packet);
        // It still answers, and whatever came before the question has been taken in.
        expect(await askLog179(client, `/mix/${1 + (index % 16)}/name`)).toHaveLength(1);
        // The first tenth warms up what grows once.
        if (index === all.length / 10) settledBytes = residentBytes(desk.pid);
      }
      const grownBytes = (residentBytes(desk.pid) ?? 0) - (settledBytes ?? 0);
      expect(grownBytes).toBeLessThan(32 * mebibyte);
      desk.kill('SIGTERM');
      const [exitCode] = await once(desk, 'close');
      expect(exitCode).toBe(0);
    },
  );

  it('harms no push that is answered with it', async () => {
    setFlagsFromString('--expose-gc');
    const collect = runInNewContext('gc') as () => void;
    const all = bursts(12);
    let asked = 0;
    const desk = createSocket('udp4');
    desk.on('message', (question, { port, address }) => {
      const some = all[asked++ % all.length] ?? [];
      for (const packet of some) desk.send(packet, port, address);
      const end = question.indexOf(0);
      const answer = toBuffer({
        address: question.toString('latin1', 0, end),
        args: [{ type: 'integer', value: asked }],
      });
      desk.send(bytesOf(answer), port, address);
    });
    desk.bind(0, '127.0.0.1');
    await once(desk, 'listening');
    onTestFinished(() => void desk.close());

    const { port } = desk.address();
    const transport = await connect({ kind: 'udp', address: '127.0.0.1', port, timeoutMs: 1000 });
    if (!transport.ok) throw new Error(JSON.stringify(transport.error));
    onTestFinished(transport.value.close);
    const session = openSession({
      transport: transport.value,
      codec: makeOscCodec(),
      clock: systemClock,
      ratePerSecond: 1e6,
      retry: usualRetryPolicy,
    });
    const never = new AbortController().signal;
    let settledBytes = 0;
    for (let round = 0; round < all.length; round++) {
      const address = `/read/${round}`;
      const question = { message: { address, args: [] }, answerAddress: address };
      const job = { address, question, write: null, judge: () => null };
      const [result] = await session.exchange([job], never);
      expect(result?.kind).toBe('held');
      if (round === all.length / 10) {
        collect();
        settledBytes = process.memoryUsage().heapUsed;
      }
    }
    collect();
    expect(session.counts().strange).toBeGreaterThan(packets / 2);
    expect(process.memoryUsage().heapUsed - settledBytes).toBeLessThan(8 * mebibyte);
  });
});
