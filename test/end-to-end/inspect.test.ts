import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { rig } from '../live/recipe-on.js';
import { runLoaded, scratchFolder } from './run.js';
import { bell, guarded, lowCut, type StandingDesk, shelf, standingDesk } from './standing-desk.js';

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

/** Reads, and nothing else, of Heron (1/2) and Lark (5): never of the wired 3/4, nor of the digital 7/8. */
const expectOnlyReads = ({ events, counts }: StandingDesk): void => {
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
    expect(text).toMatch(/ PILOT SAFE 1\/2 Heron: pilot \d+\.\d+ dB down, at least \d+\.\d+ dB asked /);
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
