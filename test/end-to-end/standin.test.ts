import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import type { OscArgOutput } from 'osc-min';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { OscTransport } from '../../src/model/target.js';
import { askLog179, float, int, oscClient, type Question, text } from './osc-client.js';
import { binary, environment, fixture, projectRoot, runLoaded, scratchFolder } from './run.js';

interface Standin {
  readonly child: ChildProcessWithoutNullStreams;
  readonly port: number;
  stdout(): string;
  stderr(): string;
  /** Lines of JSON it has printed. */
  told(): readonly Readonly<Record<string, unknown>>[];
  /** Interrupts it; how it ended. */
  end(signal?: NodeJS.Signals): Promise<readonly [exitCode: number | null, signal: string | null]>;
}

/** Waits until a program has said something; fails when it ends first, or says nothing for long. */
const until = async (child: ChildProcessWithoutNullStreams, holds: () => boolean, said: () => string) => {
  for (let waited = 0; !holds(); waited += 5) {
    if (waited > 20_000 || child.exitCode !== null) throw new Error(`it never came to that: ${said()}`);
    await setTimeout(5);
  }
};

/** Starts a stand-in on any free port, and waits until it listens. */
const standin = async (args: readonly string[], stdin = ''): Promise<Standin> => {
  const child = spawn(process.execPath, [binary, 'standin', '--port', '0', ...args], { env: environment() });
  onTestFinished(() => void child.kill('SIGKILL'));
  child.stdin.end(stdin);
  let [out, err] = ['', ''];
  child.stdout.on('data', (chunk: Buffer) => {
    out += chunk.toString();
  });
  child.stderr.on('data', (chunk: Buffer) => {
    err += chunk.toString();
  });
  const ended = new Promise<readonly [number | null, string | null]>((resolve) => {
    child.on('close', (...end) => resolve(end));
  });
  await until(
    child,
    () => err.includes('bandwright push'),
    () => out + err,
  );
  return {
    child,
    port: Number(/ at 127\.0\.0\.1:(\d+),/.exec(err)?.[1]),
    stdout: () => out,
    stderr: () => err,
    told: () => out.split('\n').flatMap((line) => (line === '' ? [] : [JSON.parse(line)])),
    end: (signal = 'SIGINT') => {
      child.kill(signal);
      return ended;
    },
  };
};

type Row = readonly [
  target: string,
  kind: OscTransport,
  address: string,
  sent: OscArgOutput,
  line: string,
  /** What asks for it, as the target says, and what comes back. */
  asked: { readonly at: string } & Question,
  answer: unknown,
];

describe('every way a value travels, from end to end', () => {
  // What each step shows follows from the figures in the target: see test/standin/take.test.ts.
  it.each<Row>([
    [
      'log-179',
      'udp',
      '/mix/3/filter/2/frequency',
      float(19_100),
      'output  3  slot 2  frequency  19.37 kHz',
      { at: '/ask/mix/3/filter/2/frequency', answerAt: '/mix/3/filter/2/frequency' },
      Math.fround(26 * (21_700 / 26) ** (175 / 178)),
    ],
    [
      'r40',
      'tcp-slip',
      '/mix/12/filter/5/gain',
      text('-4.5 dB'),
      'output 12  slot 5  gain       -4.5 dB',
      { at: '/mix/12/filter/5/gain' },
      '-4.5 dB',
    ],
    [
      'floats',
      'tcp-length-prefix',
      '/mix/64/filter/8/frequency',
      float(19_234.5),
      'output 64  slot 8  frequency  19.23 kHz',
      { at: '/mix/64/filter/8/frequency', args: [text('?')] },
      19_234.5,
    ],
    [
      'octave-6',
      'tcp-length-prefix',
      '/mix/2/filter/5/frequency',
      int(59),
      'output  2  slot 5  frequency  18.8 kHz',
      { at: '/mix/2/filter/5/frequency', args: [{ type: 'null', value: null }] },
      59,
    ],
    [
      'two-legs',
      'udp',
      '/mix/3/filter/2/frequency',
      int(298),
      'output  3  slot 2  frequency  19.10 kHz',
      { at: '/mix/3/filter/2/frequency/now' },
      298,
    ],
    [
      'cut-section',
      'udp',
      '/mix/32/filter/high/slope',
      int(2),
      'output 32  slot high  slope      24 dB/oct',
      { at: '/mix/32/filter/high/slope' },
      2,
    ],
    [
      'lr-24',
      'tcp-slip',
      '/mix/1/filter/4/gain',
      float(-4.4),
      'output  1  slot 4     gain       -4.5 dB',
      { at: '/mix/1/filter/4/gain', args: [text('?')] },
      -4.5,
    ],
    [
      'rate-96',
      'tcp-length-prefix',
      '/mix/2/filter/8/gain',
      { type: 'double', value: -4.5 },
      'output  2  slot 8  gain       -4.5 dB',
      { at: '/report/2/8/gain' },
      -4.5,
    ],
  ])('%s by %s', async (target, kind, address, sent, line, { at, ...how }, answer) => {
    const desk = await standin(['--target', target, '--transport', kind]);
    const client = await oscClient(kind, desk.port);
    client.send(address, sent);
    expect(await client.ask(at, how)).toEqual([answer]);
    expect(desk.stdout()).toBe(`${line}\n`);
    expect(await desk.end()).toEqual([0, null]);
    expect(desk.stderr()).toContain('Stood in: 1 write, 1 read, 0 refused, 0 ignored, 0 malformed.');
  });

  it('controller-128, which tells nothing back', async () => {
    const desk = await standin(['--target', 'controller-128']);
    const client = await oscClient('udp', desk.port);
    client.send('/mix/8/filter/4/gain');
    client.send('/mix/8/filter/4/gain', float(64 / 127));
    await until(
      desk.child,
      () => desk.stdout().split('\n').length > 2,
      () => desk.stdout(),
    );
    expect(desk.stdout()).toBe(
      'ignored "/mix/8/filter/4/gain": it is a question, and this desk answers none\noutput 8  slot 4  gain       0.00 dB\n',
    );
    expect(client.heard).toEqual([]);
  });
});

describe('what it says', () => {
  it('where it listens, how to push to it, and what came: in words', async () => {
    const desk = await standin(['--target', 'log-179', '--verbose']);
    expect(desk.stderr()).toBe(
      `Standing in for log-179 at 127.0.0.1:${desk.port}, by udp, until Ctrl-C.\nPush to it:\n  bandwright push RECIPE --target log-179 --to 127.0.0.1:${desk.port}\n`,
    );
    const client = await oscClient('udp', desk.port);
    client.send('/mix/4/filter/1/on', int(1));
    client.send('/mix/4/filter/1/type', int(3));
    client.send('/mix/4/filter/1/gain', int(2));
    client.send('/mix/40/filter/1/gain', float(2));
    client.sendBytes(Buffer.from('/\u001b[2J\0\0\0'));
    expect(await askLog179(client, '/mix/3/filter/1/on')).toEqual([1]);
    const lines = desk.stdout().split('\n');
    expect(lines.slice(0, 4)).toEqual([
      'output  4  slot 1  on         on',
      'output  4  slot 1  type       high shelf',
      'refused /mix/4/filter/1/gain i 2: it came as i, and f is expected',
      'ignored "/mix/40/filter/1/gain": this desk has no such address',
    ]);
    expect(lines[4]).toMatch(/^no OSC packet: /);
    expect(lines[5]).toBe('told /mix/3/filter/1/on: i 1');
    expect(desk.stdout()).not.toContain('\u001b');
  });

  it('that it is open to the network, and an address that a push takes', async () => {
    const desk = await standin(['--target', 'log-179', '--bind', '0.0.0.0']);
    expect(desk.stderr().replace(/\s+/g, ' ')).toContain(
      'Open to the network: whoever reaches this computer can turn its knobs.',
    );
    const [, to = ''] = /--to (\S+)$/m.exec(desk.stderr()) ?? [];
    expect(to).toMatch(/^127\.0\.0\.1:\d+$/);
    const read = await runLoaded(['inspect', fixture('rig-small.json'), '--target', 'log-179', '--to', to]);
    expect(read.stderr).not.toContain('destination-refused');
    expect(read.stdout.toString()).toContain('Thistle');
  });

  it('with --json: a line each, and everything it held at the end, which starts another', async () => {
    const desk = await standin(['--target', 'log-179', '--json', '--scatter', '--seed', '11']);
    const client = await oscClient('udp', desk.port);
    client.send('/mix/4/filter/1/gain', float(-15));
    await askLog179(client, '/mix/4/filter/1/gain');
    expect(await desk.end('SIGTERM')).toEqual([0, null]);
    const told = desk.told();
    expect(told.map(({ event }) => event)).toEqual(['listening', 'write', 'read', 'state']);
    expect(told[0]).toEqual({
      event: 'listening',
      transport: 'udp',
      bind: '127.0.0.1',
      port: desk.port,
      seed: 11,
    });
    expect(told[1]).toMatchObject({ address: '/mix/4/filter/1/gain', outputs: [3, 4], display: '-15.00 dB' });
    const file = join(await scratchFolder(), 'state.json');
    await writeFile(file, JSON.stringify(told[3]));
    const other = await standin(['--target', 'log-179', '--json', '--state', file]);
    expect(await other.end('SIGHUP')).toEqual([0, null]);
    expect(other.told()[1]).toEqual(told[3]);
  });

  it('names its outputs as the mixes of a rig', async () => {
    const desk = await standin(['--target', 'log-179', '--rig', fixture('rig-small.json')]);
    const client = await oscClient('udp', desk.port);
    const rig = (await import('../fixtures/rig-small.json', { with: { type: 'json' } })).default;
    for (const { name, outputs } of rig.mixes) {
      for (const output of outputs) expect(await askLog179(client, `/mix/${output}/name`)).toEqual([name]);
    }
    const free = rig.mixes.flatMap(({ outputs }) => outputs).includes(16);
    expect(free).toBe(false);
    expect(await askLog179(client, '/mix/16/name')).toEqual(['Out 16']);
  });

  it('how to push to a target with a blank in its path, and to one that was read from standard input', async () => {
    const text = await readFile(join(projectRoot, 'targets/log-179.json'), 'utf8');
    const path = join(await scratchFolder(), 'our desk.json');
    await writeFile(path, text);
    const kept = await standin(['--target', path]);
    expect(kept.stderr()).toContain(
      `\n  bandwright push RECIPE --target '${path}' --to 127.0.0.1:${kept.port}\n`,
    );
    const piped = await standin(['--target', '-'], text);
    expect(piped.stderr()).toContain(
      `Push to it, FILE being where the target is kept:\n  bandwright push RECIPE --target FILE --to 127.0.0.1:${piped.port}\n`,
    );
  });

  it('what faults did, and the seed to meet them again', async () => {
    const args = [
      '--target',
      'log-179',
      '--verbose',
      '--fault',
      'loss=100%',
      '--fault',
      'delay=1',
      '--seed',
      '5',
    ];
    const desk = await standin(args);
    expect(desk.stderr()).toContain('--seed 5\n');
    (await oscClient('udp', desk.port)).send('/mix/4/filter/1/on', int(1));
    await until(
      desk.child,
      () => desk.stdout() !== '',
      () => desk.stderr(),
    );
    expect(desk.stdout()).toBe('fault loss in: dropped "/mix/4/filter/1/on"\n');
    expect(await desk.end()).toEqual([0, null]);
    expect(desk.stderr()).toMatch(/0 malformed, 1 fault\.\n$/);
  });

  it('nothing of a broken pipe', async () => {
    const desk = await standin(['--target', 'log-179']);
    desk.child.stdout.destroy();
    const client = await oscClient('udp', desk.port);
    const closed = new Promise((resolve) => desk.child.on('close', (...end) => resolve(end)));
    const sending = setInterval(() => client.send('/mix/4/filter/1/on', int(1)), 5);
    expect(await closed).toEqual([0, null]);
    clearInterval(sending);
    expect(desk.stderr()).not.toMatch(/EPIPE|^\s+at /m);
  });
});

describe('what it does not start with', () => {
  it.each<[string, readonly string[], number, RegExp]>([
    ['a target without OSC', ['--target', 'graphic-31'], 3, /--target log-179/],
    ['no target', [], 2, /--target/],
    ['a target nobody knows', ['--target', 'log-197'], 2, /--target: No shipped target.*log-179/],
    ['a fault nobody knows', ['--target', 'log-179', '--fault', 'lost=1%'], 2, /no fault "lost"/],
    ['a fault it does not understand', ['--target', 'log-179', '--fault', 'loss=1'], 2, /as in loss=10%/],
    ['a seed for nothing', ['--target', 'log-179', '--seed', '4'], 2, /--scatter or a --fault/],
    ['a port beyond', ['--target', 'log-179', '--port', '65536'], 2, /0 to 65535/],
    ['a transport nobody knows', ['--target', 'log-179', '--transport', 'midi'], 2, /udp/],
    ['a state and another', ['--target', 'log-179', '--scatter', '--state', 'x'], 2, /cannot be used with/],
    ['a state that is not there', ['--target', 'log-179', '--state', 'gone.json'], 4, /gone\.json/],
    ['a state that is none', ['--target', 'log-179', '--state', fixture('rig-small.json')], 3, /no state of/],
    [
      'names that are none',
      ['--target', 'log-179', '--rig', fixture('intents.json')],
      3,
      /but a rig or a recipe or a journal belongs here/,
    ],
    ['a pair it has not', ['--target', 'log-179', '--rig', fixture('rig-full.json')], 3, /Write \[7, 8\]/],
    ['an address elsewhere', ['--target', 'log-179', '--bind', '192.0.2.1'], 4, /none of this computer/],
  ])('%s', async (_, args, exitCode, message) => {
    const port = args.includes('--port') ? [] : ['--port', '0'];
    const ended = await runLoaded(['standin', ...port, ...args]);
    expect(ended.stderr.replace(/\s+/g, ' ')).toMatch(message);
    expect([ended.exitCode, ended.stdout.length]).toEqual([exitCode, 0]);
  });
});
