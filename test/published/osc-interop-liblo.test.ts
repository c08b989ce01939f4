// liblo's command-line tools (Debian's liblo-tools) at one end of a real socket, ours at the other. liblo is a C
// library of its own; oscdump tells SLIP from length prefixes by how a stream begins. oscsend writes no SLIP.
import { type ChildProcess, execFile, spawn, spawnSync } from 'node:child_process';
import { promisify } from 'node:util';
import { afterEach, describe, expect, it } from 'vitest';
import type { Transport } from '../../src/live/session/transport.js';
import type { Outcome } from '../../src/model/problem.js';
import { connect } from '../../src/node/network/connect.js';
import type { OscArgument } from '../../src/osc/message.js';
import {
  anyPort,
  closeAll,
  closeLater,
  first,
  kinds,
  serving,
  until,
  valueIn,
} from '../node/network/sockets.js';
import { codec, encoded } from '../osc/bytes.js';

const missing = ['oscsend', 'oscdump'].filter((tool) => spawnSync(tool, []).error !== undefined);
const hasTools = missing.length === 0;
if (!hasTools) {
  process.stderr.write(
    `Not tried against liblo: ${missing.join(' and ')} not installed here (Debian: apt-get install liblo-tools).\n`,
  );
}

afterEach(closeAll);

/** What is sent, what oscsend is told for it, and what oscdump prints of it. */
const messages: readonly [string, readonly OscArgument[], readonly string[], string][] = [
  ['no argument', [], [], ''],
  ['f', [{ type: 'f', value: 19320 }], ['19320'], 'f 19320.000000'],
  ['f below zero', [{ type: 'f', value: -4.5 }], ['-4.5'], 'f -4.500000'],
  ['i', [{ type: 'i', value: 199 }], ['199'], 'i 199'],
  ['the least i', [{ type: 'i', value: -2147483648 }], ['-2147483648'], 'i -2147483648'],
  // C0 DB DC DD on the wire: all that SLIP escapes.
  ['i with bytes that SLIP escapes', [{ type: 'i', value: -1059332899 }], ['-1059332899'], 'i -1059332899'],
  ['d', [{ type: 'd', value: 0.015625 }], ['0.015625'], 'd 0.015625'],
  // 2^53 + 1: a double does not hold it.
  ['h', [{ type: 'h', value: 9007199254740993n }], ['9007199254740993'], 'h 9007199254740993'],
  ['h zero', [{ type: 'h', value: 0n }], ['0'], 'h 0'],
  ['s', [{ type: 's', value: 'Bühne 1' }], ['Bühne 1'], 's "Bühne 1"'],
  [
    'all of them',
    [
      { type: 'f', value: 0.5 },
      { type: 'i', value: 7 },
      { type: 'd', value: 2.25 },
      { type: 'h', value: -1n },
      { type: 's', value: 'bell' },
    ],
    ['0.5', '7', '2.25', '-1', 'bell'],
    'fidhs 0.500000 7 2.250000 -1 "bell"',
  ],
];

const schemes = { udp: 'udp', 'tcp-length-prefix': 'tcp', 'tcp-slip': 'tcp' } as const;

describe.runIf(hasTools).each(['udp', 'tcp-length-prefix'] as const)('oscsend over %s', (kind) => {
  it.each(messages)('%s comes as it was sent', async (_, args, told) => {
    const server = await serving(kind);
    const heard = first<Uint8Array>(1, (listener) => server.onPacket((packet) => listener(packet)));
    const types = args.map(({ type }) => type).join('');
    const typed = types === '' ? [] : [types, ...told];
    const to = `osc.${schemes[kind]}://127.0.0.1:${server.port}`;
    await promisify(execFile)('oscsend', [to, '/mix/3/filter', ...typed]);
    const [packet = new Uint8Array()] = await heard;
    expect(codec.decode(packet)).toEqual({ ok: true, value: { address: '/mix/3/filter', args } });
  });
});

/** The lines oscdump has printed so far, without their time stamps. */
const linesOf = (child: ChildProcess): (() => readonly string[]) => {
  let text = '';
  child.stdout?.setEncoding('utf8').on('data', (piece: string) => {
    text += piece;
  });
  return () =>
    text
      .split('\n')
      .slice(0, -1)
      .map((line) => line.slice(line.indexOf(' ') + 1).trimEnd());
};

/** oscdump, and a way to it that is known to work; another one where it does not get its port. */
const dumping = async (kind: (typeof kinds)[number]) => {
  for (;;) {
    const port = anyPort();
    const child = spawn('oscdump', ['-L', `osc.${schemes[kind]}://:${port}`]);
    closeLater({ close: () => child.kill() });
    const lines = linesOf(child);
    let transport: Transport | null = null;
    while (child.exitCode === null && !lines().includes('/ready')) {
      const opened: Outcome<Transport> | null = transport
        ? null
        : await connect({ kind, address: '127.0.0.1', port, timeoutMs: 2000 });
      if (opened?.ok) transport = closeLater(opened.value);
      await transport?.send(encoded({ address: '/ready', args: [] }));
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    if (transport && child.exitCode === null) return { transport, lines };
  }
};

describe.runIf(hasTools).each(kinds)('oscdump over %s', (kind) => {
  it('prints every type as it was sent', async () => {
    const { transport, lines } = await dumping(kind);
    for (const [index, [, args]] of messages.entries()) {
      valueIn(await transport.send(encoded({ address: `/mix/${index}`, args })));
    }
    const printed = () => lines().filter((line) => line.startsWith('/mix'));
    await until(() => printed().length === messages.length);
    expect(printed()).toEqual(messages.map(([, , , shown], index) => `/mix/${index} ${shown}`.trimEnd()));
  });
});
