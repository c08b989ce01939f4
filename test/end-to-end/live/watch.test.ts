import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { OscTransport } from '../../../src/model/target.js';
import { startStandin } from '../../../src/node/standin/start-standin.js';
import { float, oscClient } from '../osc-client.js';
import { binary, environment, inFolder, run } from '../run.js';
import { type Rehearsal, type RehearsalOptions, rehearse } from './rehearsal.js';

/* The real program watches the stand-in on real sockets, while hands of the test turn knobs and pull plugs. */

interface Line {
  readonly event?: string;
  readonly mix?: string;
  readonly result?: string;
  readonly problems?: readonly { readonly code: string }[];
  readonly values?: readonly Readonly<Record<string, unknown>>[];
  readonly guard?: { readonly now: { readonly verdict: string } };
  readonly mixes?: readonly Readonly<Record<string, unknown>>[];
}

/** A program that watches, and what it has said so far. */
interface Watch {
  readonly child: ChildProcess;
  said(): { readonly out: string; readonly err: string };
  /** What it said on standard output as JSON, every line of it. */
  lines(): readonly Line[];
  /** Waits until something is so; fails where the program ends before, or never comes to it. */
  until(isSo: (watch: Watch) => boolean): Promise<void>;
  ended: Promise<number | null>;
}

const watch = ({ recipe, port, desk }: Rehearsal, ...flags: readonly string[]): Watch => {
  const kind: OscTransport = desk.target.osc?.transports[0]?.kind ?? 'udp';
  const args = ['watch', recipe, '--to', `127.0.0.1:${port}`, '--transport', kind, '--every', '1', ...flags];
  const child = spawn(process.execPath, [binary, ...args], { env: environment(), stdio: 'pipe' });
  onTestFinished(() => void child.kill('SIGKILL'));
  let [out, err] = ['', ''];
  child.stdout.on('data', (chunk: Buffer) => {
    out += chunk.toString();
  });
  child.stderr.on('data', (chunk: Buffer) => {
    err += chunk.toString();
  });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  const self: Watch = {
    child,
    said: () => ({ out, err }),
    lines: () =>
      out
        .split('\n')
        .slice(0, -1)
        .map((line) => JSON.parse(line) as Line),
    until: async (isSo) => {
      for (let waitedMs = 0; !isSo(self); waitedMs += 20) {
        if (child.exitCode !== null || waitedMs > 60_000)
          throw new Error(`it never came to that:\n${out}${err}`);
        await setTimeout(20);
      }
    },
    ended,
  };
  return self;
};

const has =
  (event: string) =>
  (each: Watch): boolean =>
    each.lines().some((line) => line.event === event);

/** A desk that a recipe was pushed to. */
const onDesk = (
  work: (rehearsal: Rehearsal) => Promise<void>,
  options: Partial<RehearsalOptions> = {},
): Promise<void> =>
  inFolder(async (folder) => {
    const rehearsal = await rehearse(folder, { target: 'digits-3', seed: 8, ...options });
    try {
      const quick = ['--yes', '--accept-names', '--rate', '5000'];
      const pushed = await rehearsal.command('push', [rehearsal.recipe, ...quick]);
      expect(pushed.exitCode, pushed.stderr).toBe(0);
      await work(rehearsal);
    } finally {
      await rehearsal.close();
    }
  });

/** Where the recipe sets the bell of the first mix, and what it sets. */
const bellOf = async ({ recipe }: Rehearsal) => {
  const { mixes } = JSON.parse(await readFile(recipe, 'utf8'));
  const placed = mixes[0].filters.find(({ type }: { type: string }) => type === 'peaking');
  return {
    address: `/mix/1/filter/${placed.slot}/frequency`,
    setHz: placed.set.frequencyHz as number,
    display: placed.steps.frequency.display as string,
  };
};

describe('a watch', () => {
  it('tells a knob that is turned and turned back, a line of JSON each, and ends at Ctrl-C with 1', () =>
    onDesk(async (rehearsal) => {
      const hand = await oscClient('udp', rehearsal.port);
      const { address, setHz, display } = await bellOf(rehearsal);
      const before = rehearsal.events.filter(({ event }) => event === 'write').length;
      const watching = watch(rehearsal, '--json');
      await watching.until(has('first-round'));
      hand.send(address, float(440));
      await watching.until(has('changed'));
      hand.send(address, float(setHz));
      await watching.until(has('as-set'));
      watching.child.kill('SIGINT');
      expect(await watching.ended, watching.said().err).toBe(1);

      const lines = watching.lines();
      expect(lines.map(({ event }) => event)).toEqual([
        'started',
        'first-round',
        'changed',
        'as-set',
        'summary',
      ]);
      expect(lines[2]).toMatchObject({
        mix: 'Heron',
        state: 'differs',
        // 440 Hz as a desk of three digits shows it.
        values: [{ address, from: display, to: '440 Hz', set: display, state: 'differs' }],
        guard: { now: { verdict: 'falls-short' } },
      });
      expect(lines[3]).toMatchObject({ mix: 'Heron', state: 'holds' });
      expect(lines[4]).toMatchObject({
        result: 'falls-short',
        silences: 0,
        mixes: [
          { name: 'Heron', state: 'holds', changes: 1 },
          { name: 'Lark', state: 'holds', changes: 0 },
        ],
      });
      expect(watching.said().err).toMatch(/1 did not stand as the recipe set it throughout/);
      // Nothing was written but by the hand.
      const writes = rehearsal.events.flatMap((each) => (each.event === 'write' ? [each.address] : []));
      expect(writes.slice(before)).toEqual([address, address]);
      const strange = rehearsal.events.filter(({ event }) =>
        ['refused', 'ignored', 'malformed'].includes(event),
      );
      expect(strange).toEqual([]);
    }));

  it('ends by itself after the time it is given, with 0 where every mix stood', () =>
    onDesk(async (rehearsal) => {
      const watching = watch(rehearsal, '--for', '0.05');
      expect(await watching.ended).toBe(0);
      const { out, err } = watching.said();
      expect(out).toMatch(/^\d\d:\d\d:\d\d {2}every mix stands as the recipe set it \(2\)$/m);
      expect(out).toMatch(/^HOLDS {7}1\/2 {5}Heron: stood \d s$/m);
      expect(err).toMatch(
        /^Watching 2 mixes on 127\.0\.0\.1:\d+ by UDP: \d+ values, each every 1 s, for 3 s\./m,
      );
      expect(err.replace(/\s+/g, ' ')).toContain(
        'every mix stood as the recipe set it whenever it was read.',
      );
      expect(out + err).not.toContain('\u0007');
    }));

  it('tells in words what changed and what it does to the pilot', () =>
    onDesk(async (rehearsal) => {
      const hand = await oscClient('udp', rehearsal.port);
      const { address, display } = await bellOf(rehearsal);
      const watching = watch(rehearsal);
      await watching.until(({ said }) => said().out.includes('every mix'));
      hand.send(address, float(440));
      await watching.until(({ said }) => / asked/.test(said().out));
      watching.child.kill('SIGINT');
      expect(await watching.ended).toBe(1);
      const text = watching.said().out.replace(/\s+/g, ' ');
      expect(text).toContain(`frequency was ${display}, reads 440 Hz`);
      expect(text).toMatch(/DIFFERS 1\/2 Heron: changed output 1, slot \S+: frequency/);
      // At 75 us pre-emphasis adds 19.1 dB at 19 kHz: 10 log10(1 + (2 pi 19000 tau)^2).
      expect(text).toMatch(/pilot was [\d.]+ dB down, is [\d.]+ dB down, at least 19\.1 dB asked/);
    }));

  it('tells at the start what stands otherwise, and that outputs go by other names', () =>
    inFolder(async (folder) => {
      const rehearsal = await rehearse(folder, { target: 'log-179', seed: 8 });
      try {
        const watching = watch(rehearsal);
        await watching.until(({ said }) => said().out.includes('of 2 mixes'));
        watching.child.kill('SIGINT');
        expect(await watching.ended).toBe(1);
        const { out, err } = watching.said();
        expect(out).toMatch(/^\d\d:\d\d:\d\d {2}DIFFERS {5}1\/2 {5}Heron: not as the recipe set it$/m);
        expect(out).toMatch(/of 2 mixes 2 stand otherwise than the recipe set$/m);
        expect(err.replace(/\s+/g, ' ')).toMatch(/note: on the desk output 1 .*, not "Heron": check that/);
      } finally {
        await rehearsal.close();
      }
    }));

  it('tells that the desk fell silent and answers again; 4 while it is silent, 0 where it came back as set', () =>
    onDesk(async (rehearsal) => {
      const state = rehearsal.snapshot();
      const { desk, port } = rehearsal;
      const [patient, brief] = [watch(rehearsal, '--json'), watch(rehearsal, '--json')];
      await Promise.all([patient, brief].map((each) => each.until(has('first-round'))));
      await rehearsal.close();
      await Promise.all([patient, brief].map((each) => each.until(has('silent'))));
      brief.child.kill('SIGINT');
      expect(await brief.ended).toBe(4);
      expect(brief.lines().at(-1)).toMatchObject({ event: 'summary', result: 'desk-lost', silences: 1 });

      const again = await startStandin({ desk, kind: 'udp', port, bind: '127.0.0.1', state });
      if (!again.ok) throw new Error(JSON.stringify(again.error));
      onTestFinished(() => again.value.close());
      await patient.until(has('answering'));
      await setTimeout(1500);
      patient.child.kill('SIGINT');
      expect(await patient.ended).toBe(0);
      expect(patient.lines().map(({ event }) => event)).toEqual([
        'started',
        'first-round',
        'silent',
        'answering',
        'summary',
      ]);
    }));

  it('goes on by TCP where the connection is closed and can be had again', () =>
    onDesk(
      async (rehearsal) => {
        const state = rehearsal.snapshot();
        const { desk, port } = rehearsal;
        const watching = watch(rehearsal, '--json');
        await watching.until(has('first-round'));
        await rehearsal.close();
        await watching.until(has('silent'));
        const again = await startStandin({ desk, kind: 'tcp-slip', port, bind: '127.0.0.1', state });
        if (!again.ok) throw new Error(JSON.stringify(again.error));
        onTestFinished(() => again.value.close());
        await watching.until(has('answering'));
        await setTimeout(1000);
        watching.child.kill('SIGTERM');
        expect(await watching.ended, watching.said().err).toBe(0);
      },
      { target: 'r40', kind: 'tcp-slip' },
    ));

  it('gives no alarm where one packet in ten is lost each way', () =>
    onDesk(
      async (rehearsal) => {
        const watching = watch(rehearsal, '--json', '--for', '0.25');
        expect(await watching.ended, watching.said().err).toBe(0);
        expect(watching.lines().map(({ event }) => event)).toEqual(['started', 'first-round', 'summary']);
        expect(rehearsal.events.filter(({ event }) => event === 'fault').length).toBeGreaterThan(20);
      },
      { faults: ['loss=10%'] },
    ));

  it('ends at once with 4 where no desk answers, and says so in one line of JSON', () =>
    onDesk(async (rehearsal) => {
      await rehearsal.close();
      const watching = watch(rehearsal, '--json', '--timeout', '20', '--retries', '2');
      expect(await watching.ended).toBe(4);
      expect(watching.lines().map(({ problems }) => problems?.map(({ code }) => code))).toEqual([
        ['desk-unreachable'],
      ]);
    }));

  it('refuses a desk that cannot be read, as a verification does', () =>
    inFolder(async (folder) => {
      const rehearsal = await rehearse(folder, { target: 'controller-128' });
      try {
        const [verified, watching] = [
          await rehearsal.command('verify', [rehearsal.recipe]),
          watch(rehearsal, '--json'),
        ];
        expect(await watching.ended).toBe(verified.exitCode);
        expect(watching.lines()[0]?.problems?.[0]?.code).toBe('osc-unreadable');
        expect(rehearsal.events).toEqual([]);
      } finally {
        await rehearsal.close();
      }
    }));

  it.each(['stdout', 'stderr'] as const)('ends with 4 where nobody reads its %s any more', (name) =>
    onDesk(async (rehearsal) => {
      const hand = await oscClient('udp', rehearsal.port);
      const { address } = await bellOf(rehearsal);
      const watching = watch(rehearsal);
      await watching.until(({ said }) => said().out.includes('every mix'));
      watching.child[name]?.destroy();
      hand.send(address, float(440));
      // What is told on standard error is the end: nothing is written there before.
      if (name === 'stderr') {
        await watching.until(({ said }) => said().out.includes('DIFFERS'));
        watching.child.kill('SIGINT');
      }
      expect(await watching.ended).toBe(4);
      expect(watching.said().err).not.toMatch(/EPIPE|Error|^\s+at /m);
    }),
  );

  it('ends with 4 where its output goes to a disk that is full', () =>
    onDesk(async (rehearsal) => {
      const to = `127.0.0.1:${rehearsal.port}`;
      const line = `"${process.execPath}" "${binary}" watch "${rehearsal.recipe}" --to ${to} --every 1 > /dev/full`;
      const child = spawn('sh', ['-c', line], { env: environment(), stdio: ['ignore', 'ignore', 'pipe'] });
      let err = '';
      child.stderr.on('data', (chunk: Buffer) => {
        err += chunk.toString();
      });
      expect(await new Promise((resolve) => child.on('close', resolve)), err).toBe(4);
      expect(err).not.toMatch(/Error|^\s+at /m);
    }));

  it.each([
    [['--every', '0.5'], /1 to 3600 seconds/],
    [['--every', 'soon'], /1 to 3600 seconds/],
    [['--rate', '51'], /50 messages a second/],
    [['--for', '0'], /0\.05 to 10080 minutes/],
  ])('refuses %j', async (flags, allowed) => {
    const { exitCode, stderr } = await run(['watch', 'recipe.json', '--to', '127.0.0.1:9', ...flags]);
    expect(exitCode).toBe(2);
    expect(stderr).toMatch(allowed);
  });

  it('says how long a round takes where it takes longer than asked', () =>
    onDesk(async (rehearsal) => {
      const watching = watch(rehearsal, '--json', '--rate', '5');
      await watching.until(has('started'));
      watching.child.kill('SIGINT');
      await watching.ended;
      const { values, roundMs } = JSON.parse(watching.said().out.split('\n')[0] ?? '');
      expect(values).toBeGreaterThan(10);
      expect(roundMs).toBe((values / 5) * 1000);
      const seconds = Math.ceil(values / 5);
      expect(watching.said().err.replace(/\s+/g, ' ')).toContain(
        `At 5 messages a second a round takes ${seconds} s.`,
      );
    }));
});

const hasScript = /util-linux/.test(spawnSync('script', ['--version'], { encoding: 'utf8' }).stdout ?? '');

describe.skipIf(!hasScript)('on a terminal', () => {
  /** Watches on a pseudo-terminal; `act` is called once the first round is told. */
  const onTerminal = (
    { recipe, port }: Rehearsal,
    flags: readonly string[],
    act: (terminal: ChildProcess, screen: () => string) => void,
  ): Promise<{ readonly exitCode: number | null; readonly screen: string }> =>
    new Promise((resolve, reject) => {
      const words = [
        process.execPath,
        binary,
        'watch',
        recipe,
        '--to',
        `127.0.0.1:${port}`,
        '--every',
        '1',
        ...flags,
      ];
      const command = `stty cols 70 rows 40; exec ${words.map((word) => `'${word}'`).join(' ')}`;
      const args = ['--quiet', '--return', '--flush', '--command', command, '/dev/null'];
      const terminal = spawn('script', args, {
        env: environment({ TERM: 'xterm', SHELL: '/bin/sh' }),
      });
      let screen = '';
      let isActing = false;
      terminal.stdout.on('data', (chunk: Buffer) => {
        screen += chunk.toString('utf8');
        if (isActing || !screen.includes('round 1')) return;
        isActing = true;
        act(terminal, () => screen);
      });
      terminal.on('error', reject);
      terminal.on('close', (exitCode) => resolve({ exitCode, screen }));
    });

  it('rings where it is asked to, keeps one line of how things are, and ends at Ctrl-C', () =>
    onDesk(async (rehearsal) => {
      const hand = await oscClient('udp', rehearsal.port);
      const { address } = await bellOf(rehearsal);
      const { exitCode, screen } = await onTerminal(rehearsal, ['--bell'], (terminal, shown) => {
        hand.send(address, float(440));
        const looking = setInterval(() => {
          if (!shown().includes('DIFFERS')) return;
          clearInterval(looking);
          terminal.stdin?.write('\u0003');
        }, 20);
      });
      expect(exitCode, screen).toBe(1);
      expect(screen.split('\u0007')).toHaveLength(2);
      // The line is taken away before anything else is written.
      expect(screen).toContain('round 1\r\u001b[K');
      // Nothing else is told of rounds: a line of its own there is none.
      expect(screen).not.toMatch(/round \d+\r?\n/);
      expect(screen).toMatch(/Watched 2 mixes for \d+ s: 1 did not stand/);
    }));

  it('ends with 4 where the terminal is closed, and asks the desk no more', () =>
    onDesk(async (rehearsal) => {
      const codeFile = `${rehearsal.recipe}.code`;
      const words = [process.execPath, binary, 'watch', rehearsal.recipe, '--every', '1'];
      const to = ['--to', `127.0.0.1:${rehearsal.port}`];
      const quoted = [...words, ...to].map((word) => `'${word}'`).join(' ');
      // The shell outlives its terminal to keep the code; the program decides for itself about the signal.
      const command = `trap '' HUP; ${quoted}; echo $? > '${codeFile}'`;
      const args = ['--quiet', '--flush', '--command', command, '/dev/null'];
      const terminal = spawn('script', args, { env: environment({ TERM: 'xterm', SHELL: '/bin/sh' }) });
      let screen = '';
      terminal.stdout.on('data', (chunk: Buffer) => {
        screen += chunk.toString();
        if (screen.includes('round 1')) terminal.kill('SIGKILL');
      });
      const code = async (): Promise<string> => readFile(codeFile, 'utf8').catch(() => '');
      for (let waitedMs = 0; (await code()) === '' && waitedMs < 60_000; waitedMs += 50) await setTimeout(50);
      expect((await code()).trim(), screen).toBe('4');
      const reads = (): number => rehearsal.events.filter(({ event }) => event === 'read').length;
      const asked = reads();
      await setTimeout(1500);
      expect(reads()).toBe(asked);
    }));
});
