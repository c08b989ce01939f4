import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { type RunningStandin, startStandin } from '../../src/node/standin/start-standin.js';
import type { StandinEvent } from '../../src/standin/events.js';
import { rig, shippedDesk } from '../live/recipe-on.js';
import { type Run, runLoaded, scratchFolder } from './run.js';

interface Slot {
  readonly id: string;
  readonly on: boolean;
  readonly type: string;
  readonly knobs: Readonly<Record<string, { readonly index: number }>>;
}

// log-179 counts 179 frequencies, 26 * (21700/26)^(k/178) Hz (174 is 18.66 kHz, 175 is 19.37 kHz, 151 is 7.822 kHz), 58 Qs,
// 0.33 * (10.6/0.33)^(k/57) (40 is 3.77), and 35 gains from -16.5 dB by 0.75 dB (2 is -15 dB, 30 is +6 dB).
const bell = (id: string, frequency: number, on = true): Slot => ({
  id,
  on,
  type: 'peaking',
  knobs: { frequency: { index: frequency }, q: { index: 40 }, gain: { index: 2 } },
});
const lowCut: Slot = { id: '3', on: true, type: 'highpass', knobs: { frequency: { index: 11 } } };
const shelf: Slot = {
  id: '4',
  on: true,
  type: 'highshelf',
  knobs: { frequency: { index: 151 }, gain: { index: 30 } },
};
const highCut: Slot = { id: '4', on: true, type: 'lowpass', knobs: { frequency: { index: 169 } } };

/** Two bells of 15 dB to either side of the pilot: far more than the 16 or 18 dB that pre-emphasis adds there. */
const guarded: readonly Slot[] = [bell('1', 174), bell('2', 175), lowCut, highCut];

interface Desk extends RunningStandin {
  readonly events: readonly StandinEvent[];
  /** Runs `bandwright inspect` on the rig as it stands there. */
  inspect(...args: readonly string[]): Promise<Run>;
}

const standingDesk = async (
  heron: readonly Slot[],
  lark: readonly Slot[],
  options: { readonly target?: string; readonly faults?: readonly string[] } = {},
): Promise<Desk> => {
  const { target = 'log-179', faults = [] } = options;
  const desk = await shippedDesk(target);
  const events: StandinEvent[] = [];
  const banks =
    target === 'two-legs'
      ? [[1], [5]]
      : [
          [1, 2],
          [5, 6],
        ];
  const started = await startStandin({
    desk,
    kind: 'udp',
    port: 0,
    bind: '127.0.0.1',
    faults,
    seed: 1,
    outputs: {
      names: new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name]))),
    },
    state: {
      format: 'bandwright-standin-state/1',
      target,
      filters: [
        { outputs: banks[0], slots: heron },
        { outputs: banks[1], slots: lark },
      ],
    },
    onEvent: (event) => events.push(event),
  });
  if (!started.ok) throw new Error(JSON.stringify(started.error));
  const standin = started.value;
  onTestFinished(() => standin.close());
  const cwd = await scratchFolder();
  await writeFile(join(cwd, 'show.json'), JSON.stringify(rig));
  return {
    ...standin,
    events,
    inspect: (...args) =>
      runLoaded(['inspect', 'show.json', '--target', target, '--to', `127.0.0.1:${standin.port}`, ...args], {
        cwd,
      }),
  };
};

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

/** Reads, and nothing else, of Heron (1/2) and Lark (5): never of the wired 3/4, nor of the digital 7/8. */
const expectOnlyReads = ({ events, counts }: Desk): void => {
  expect(counts()).toMatchObject({ write: 0, refused: 0, ignored: 0, malformed: 0 });
  const asked = events.flatMap((event) => (event.event === 'read' ? [event.address] : []));
  const outputs = new Set(asked.map((address) => Number(address.split('/')[2])));
  expect([...outputs].sort()).toEqual([1, 2, 5]);
};

describe('inspect', () => {
  it('tells what is safe, what is at risk and why; writes nothing and asks nothing of other mixes', async () => {
    const desk = await standingDesk(guarded, [...guarded.slice(0, 3), shelf]);
    const before = JSON.stringify(desk.snapshot());
    const { exitCode, stdout, stderr } = await desk.inspect();
    const text = unwrapped(stdout.toString());
    expect(text).toMatch(/^Of 2 mixes 1 leaves its pilot at risk, 1 is safe\. /);
    expect(text).toMatch(/ SAFE 1\/2 Heron: pilot \d+\.\d+ dB down, at least \d+\.\d+ dB asked /);
    expect(text).toMatch(/ AT RISK 5 Lark: pilot \d+\.\d+ dB down, at least \d+\.\d+ dB asked /);
    // A shelf that far below the pilot is all but at its full gain there: 6 dB, less a little.
    expect(text).toMatch(
      / slot 4: high shelf at 7\.822 kHz, \+6 dB, lifts the pilot by (5\.[5-9]|6\.0) dB\. /,
    );
    expect(text).toContain('LEAVE ALONE, not read: Drums (3/4, wired); Choir (7/8, digital)');
    expect(exitCode).toBe(1);
    expect(stderr).toMatch(
      /^Reading what stands on 127\.0\.0\.1:\d+ by UDP \.\.\.\nFitting the rig on [^\n]+\n$/,
    );
    expect(
      Math.max(
        ...stdout
          .toString()
          .split('\n')
          .map(({ length }) => length),
      ),
    ).toBeLessThanOrEqual(80);
    expectOnlyReads(desk);
    expect(JSON.stringify(desk.snapshot())).toBe(before);
  });

  it('is done where every mix is safe', async () => {
    const desk = await standingDesk(guarded, guarded);
    const { exitCode, stdout } = await desk.inspect();
    expect(unwrapped(stdout.toString())).toMatch(/^Of 2 mixes 2 are safe\. /);
    expect(exitCode).toBe(0);
    expectOnlyReads(desk);
  });

  it('tells programs everything: figures for every way of building, what stands in each slot', async () => {
    const desk = await standingDesk([bell('1', 174, false), bell('2', 178), lowCut, shelf], guarded);
    const { exitCode, stdout } = await desk.inspect('--json');
    const { purpose, result, mixes, leftAlone } = JSON.parse(stdout.toString());
    expect(purpose).toBe('inspect');
    expect([exitCode, result]).toEqual([
      mixes[0].state === 'safe' ? 0 : 1,
      exitCode ? 'falls-short' : 'done',
    ]);
    expect(mixes.map(({ name }: { name: string }) => name)).toEqual(['Heron', 'Lark']);
    const [{ slots, byRealisation }] = mixes[0].read;
    expect(slots.map(({ state }: { state: string }) => state)).toEqual(['off', 'acts', 'acts', 'acts']);
    expect(slots[0].shown).toBe('off, bell 18.66 kHz Q 3.77 -15.00 dB');
    expect(slots[1].filter.frequencyHz).toBeCloseTo(21_700, 6);
    expect(byRealisation.map(({ id }: { id: string }) => id)).toEqual([
      'cookbook-48k',
      'classic-48k',
      'matched-48k',
      'nyquist-48k',
      'analogue',
    ]);
    expect(leftAlone.map(({ name }: { name: string }) => name)).toEqual(['Drums', 'Choir']);
    expectOnlyReads(desk);
  });

  it('reads both legs where they are dialled apart', async () => {
    const desk = await standingDesk([], [], { target: 'two-legs' });
    const { exitCode, stdout } = await desk.inspect();
    expect(exitCode).toBe(1);
    expect(unwrapped(stdout.toString())).toContain('Nothing at all cuts at the pilot.');
    const asked = desk.events.flatMap((event) => (event.event === 'read' ? [event.address] : []));
    expect(new Set(asked.filter((address) => address.startsWith('/mix/2/filter/'))).size).toBe(6 * 5);
    expectOnlyReads(desk);
  });

  it('advises as a recipe of the same options would have it', async () => {
    const desk = await standingDesk([], [], { target: 'two-legs' });
    // More than the desk can do, and a limit within which that is soon found.
    const beyond = ['--attenuation', '60', '--keep-loss', '1'];
    const advised = async (...args: readonly string[]): Promise<readonly string[]> => {
      const { exitCode, stdout } = await desk.inspect(...beyond, ...args);
      expect(exitCode).toBe(1);
      const told =
        /Set, as its recipe has it, (.*?)\. Then it is as good as this desk can do(?: without a slot more)?: /.exec(
          unwrapped(stdout.toString()),
        )?.[1];
      return told?.split('; ') ?? [];
    };
    const plain = await advised();
    const spared = await advised('--spare-slots', '1');
    // A low cut, a high cut and a cut at the pilot; and one more where a slot is spared for it.
    expect([plain.length, spared.length]).toEqual([3, 4]);
    expectOnlyReads(desk);
  });

  it('reads through a network that loses a third of everything', async () => {
    const desk = await standingDesk(guarded, guarded, { faults: ['loss=30%'] });
    const { exitCode } = await desk.inspect('--timeout', '40', '--retries', '19', '--rate', '2000');
    expect(exitCode).toBe(0);
    expectOnlyReads(desk);
  });

  it('promises nothing where answers are not what the target says', async () => {
    const desk = await standingDesk(guarded, guarded, { faults: ['wrong-type=100%'] });
    const { exitCode, stdout } = await desk.inspect('--timeout', '40', '--retries', '2', '--rate', '2000');
    const text = unwrapped(stdout.toString());
    expect(text).toMatch(/^Of 2 mixes 2 are not known\. /);
    expect(text).toContain('NOT KNOWN 1/2 Heron: what is taken at the pilot is not known');
    expect(text).toContain('Nothing can be promised');
    expect(exitCode).toBe(1);
  });

  it('ends with 4 where the desk says nothing', async () => {
    const desk = await standingDesk(guarded, guarded, { faults: ['silent-after=0'] });
    const { exitCode, stdout, stderr } = await desk.inspect('--timeout', '20', '--retries', '1');
    expect([exitCode, stdout.toString()]).toEqual([4, '']);
    expect(stderr).toContain('[desk-silent]');
  });

  it('asks nothing at all where no mix feeds an FM stereo link', async () => {
    const cwd = await scratchFolder();
    const wired = { ...rig, mixes: rig.mixes.filter(({ feeds }) => feeds !== 'packs') };
    await writeFile(join(cwd, 'show.json'), JSON.stringify(wired));
    const { exitCode, stdout } = await runLoaded(
      ['inspect', 'show.json', '--target', 'log-179', '--to', 'nowhere.invalid'],
      { cwd },
    );
    expect(exitCode).toBe(0);
    expect(stdout.toString()).toMatch(/^No mix of this rig feeds an FM stereo link: nothing was read\.\n/);
  });

  it.each<[string, readonly string[], string, number]>([
    ['a rig without a place', ['show.json', '--target', 'log-179'], "'--to <host[:port]>'", 2],
    ['a place without a rig', ['--target', 'log-179', '--to', '127.0.0.1'], "'rig'", 2],
    ['no target', ['show.json', '--to', '127.0.0.1'], "'-t, --target <id|path>'", 2],
    [
      'a pilot of another kind than the rig tells',
      ['show.json', '--target', 'log-179', '--to', '127.0.0.1', '--pilot', '19k'],
      "'--pilot'",
      2,
    ],
    [
      'another report besides',
      ['show.json', '--target', 'log-179', '--to', '127.0.0.1', '--tradeoff'],
      "'--tradeoff'",
      2,
    ],
    [
      'a window as wide as the music',
      ['show.json', '--target', 'log-179', '--to', '127.0.0.1', '--window', '9k'],
      '--window:',
      2,
    ],
    [
      'a desk that cannot be read',
      ['show.json', '--target', 'controller-128', '--to', '127.0.0.1'],
      '[osc-unreadable]',
      3,
    ],
  ])('refuses %s', async (_, args, told, code) => {
    const cwd = await scratchFolder();
    await writeFile(join(cwd, 'show.json'), JSON.stringify(rig));
    const { exitCode, stdout, stderr } = await runLoaded(['inspect', ...args], { cwd });
    expect([exitCode, stdout.toString()]).toEqual([code, '']);
    expect(unwrapped(stderr)).toContain(told);
  });
});
