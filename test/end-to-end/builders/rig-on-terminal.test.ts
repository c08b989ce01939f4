import { describe, expect, it } from 'vitest';
import { filesUnder, runLoaded, scratchFolder } from '../run.js';
import { hasTerminal, plainText, type Typed, typeOnTerminal } from './on-terminal.js';
import { ctrlC, down, enter, escapeKey, nextMix, oneLine, readJson } from './typing.js';

/** One analogue system, as a newcomer tells it whose manual prints the usual range. */
const oneSystem: readonly Typed[] = [
  ['show called?', enter],
  ['in-ears?', enter],
  ['audio range', enter],
  ['pre-emphasis', `${down}${enter}`],
  ['called here?', enter],
  ['another kind?', enter],
];

describe.skipIf(!hasTerminal)('rig new, on a terminal', () => {
  it('makes a rig of ten mixes from fewer than 360 keys, two minutes at three a second', async () => {
    const cwd = await scratchFolder();
    const names = ['Guitar left', 'Guitar right', 'Bass', 'Keys', 'Choir', 'Horns', 'Violin'];
    const script: readonly Typed[] = [
      ['show called?', `Harbour night${enter}`],
      ...oneSystem.slice(1, 5),
      ['another kind?', `${down}${down}${down}${enter}`],
      ['called here?', enter],
      ['another kind?', enter],
      ['First mix', `Singer${enter}`],
      ...names.map(nextMix),
      nextMix('Drums 17 wired'),
      nextMix('Crew'),
      nextMix(''),
      ['slots of the desk', enter],
    ];
    const { exitCode, screen, keys } = await typeOnTerminal(['rig', 'new', 'show.json'], script, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    expect(keys).toBeLessThan(360);
    const { systems, mixes } = await readJson(cwd, 'show.json');
    expect(systems).toEqual({
      packs: { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000, preEmphasisMicroseconds: 50 },
      wired: { link: 'wired' },
    });
    expect(mixes).toHaveLength(10);
    expect(mixes[7]).toEqual({ name: 'Violin', outputs: [15, 16], feeds: 'packs' });
    expect(mixes.slice(8)).toEqual([
      { name: 'Drums', outputs: [17], feeds: 'wired' },
      { name: 'Crew', outputs: [19, 20], feeds: 'wired' },
    ]);
    expect(await filesUnder(cwd)).toEqual(['show.json']);
    const told = plainText(screen);
    expect(told).toContain('bandwright recipe show.json --target cut-section');
    const recipe = await runLoaded(['recipe', 'show.json', '--target', 'cut-section'], { cwd });
    expect([recipe.exitCode, recipe.stderr]).toEqual([0, '']);
  });

  it('takes a pasted list of lines, and tells the one that is wrong', async () => {
    const cwd = await scratchFolder();
    // As terminals paste lines, as other programs send them, and as cells of a table.
    const pasted = `Singer\t1/2${enter}Drums 2\nKeys 7, Bass 9/10\r\n"Guest 1"${enter}${enter}`;
    const script: readonly Typed[] = [...oneSystem, ['First mix', pasted], ['slots of the desk', enter]];
    const { exitCode, screen } = await typeOnTerminal(['rig', 'new', 'show.json'], script, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    expect(oneLine(plainText(screen))).toContain('Output 2 is taken by "Singer" already');
    const { mixes } = await readJson(cwd, 'show.json');
    expect(mixes.map(({ name, outputs }: { name: string; outputs: number[] }) => [name, outputs])).toEqual([
      ['Singer', [1, 2]],
      ['Keys', [7]],
      ['Bass', [9, 10]],
      ['Guest 1', [11, 12]],
    ]);
  });

  it('tells wrong answers, and asks again', async () => {
    const cwd = await scratchFolder();
    const script: readonly Typed[] = [
      ...oneSystem.slice(0, 2),
      ['audio range', `40 to 15${enter}`],
      ['15 looks like kHz: write 15000', `wide${enter}`],
      ['is no audio range', enter],
      ...oneSystem.slice(3),
      ['First mix', enter],
      ['names no mix', `Singer 3/3${enter}`],
      ['names the same output twice', `Singer${enter}`],
      nextMix('Singer 5'),
      ['already', enter],
      ['slots of the desk', `3 !${enter}`],
      ['slots of the desk', `3 4${enter}`],
      ['slots of the desk', enter],
    ];
    const { exitCode, screen } = await typeOnTerminal(['rig', 'new', 'show.json'], script, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    const { mixes } = await readJson(cwd, 'show.json');
    expect(mixes).toEqual([{ name: 'Singer', outputs: [1, 2], feeds: 'packs', freeSlots: ['3', '4'] }]);
  });

  it('goes back at any question: by Escape, by <, by choosing it', async () => {
    const cwd = await scratchFolder();
    const script: readonly Typed[] = [
      ['show called?', `<${enter}`],
      ['first question', `Wrong${enter}`],
      ['in-ears?', escapeKey],
      ['show called?', `Right${enter}`],
      ['in-ears?', `${down}${enter}`],
      ['called here?', `<${enter}`],
      ['in-ears?', enter],
      ['audio range', enter],
      // From the first choice upwards is the last: go back.
      ['pre-emphasis', `\u001b[A${enter}`],
      ['audio range', `50..14k${enter}`],
      ...oneSystem.slice(3),
      ['First mix', `Singer${enter}`],
      nextMix('Drums'),
      nextMix('<'),
      nextMix('Bass 9'),
      nextMix(''),
      ['slots of the desk', escapeKey],
      nextMix('-Bass'),
      ['taken out: Bass', enter],
      ['slots of the desk', enter],
    ];
    const { exitCode, screen } = await typeOnTerminal(['rig', 'new', 'show.json'], script, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    const { title, systems, mixes } = await readJson(cwd, 'show.json');
    expect([title, systems.packs.audioHighHz]).toEqual(['Right', 14000]);
    expect(mixes).toEqual([{ name: 'Singer', outputs: [1, 2], feeds: 'packs' }]);
  });

  it('keeps every answer through Ctrl-C, SIGTERM and SIGKILL, and goes on where it stopped', async () => {
    const cwd = await scratchFolder();
    const args = ['rig', 'new', 'show.json'];
    const first = await typeOnTerminal(args, [...oneSystem.slice(0, 3), ['pre-emphasis', ctrlC]], { cwd });
    expect(first.exitCode).toBe(130);
    expect(oneLine(plainText(first.screen))).toContain(
      'What was answered is kept in show.json.draft; the same command goes on from there.',
    );
    expect(await filesUnder(cwd)).toEqual(['show.json.draft']);

    const again: Typed = ['3 answers of an earlier time', enter];
    const second = await typeOnTerminal(
      args,
      [
        again,
        ...oneSystem.slice(3),
        ['First mix', `Singer${enter}`],
        nextMix('Drums 7'),
        ['◆  Next mix', ''],
      ],
      { cwd, signal: 'SIGKILL' },
    );
    expect(second.exitCode).toBe(137);
    expect(await filesUnder(cwd)).toEqual(['show.json.draft']);

    const third = await typeOnTerminal(
      args,
      [
        ['8 answers of an earlier time', enter],
        ['◆  Next mix', ''],
      ],
      {
        cwd,
        signal: 'SIGTERM',
      },
    );
    expect(third.exitCode).toBe(130);

    const last = await typeOnTerminal(
      args,
      [['8 answers of an earlier time', enter], nextMix('Keys'), nextMix(''), ['slots of the desk', enter]],
      { cwd },
    );
    expect(last.exitCode, plainText(last.screen)).toBe(0);
    const { mixes } = await readJson(cwd, 'show.json');
    expect(mixes.map(({ name }: { name: string }) => name)).toEqual(['Singer', 'Drums', 'Keys']);
    expect(await filesUnder(cwd)).toEqual(['show.json']);
  });

  it('begins anew where that is chosen', async () => {
    const cwd = await scratchFolder();
    const args = ['rig', 'new', 'show.json'];
    await typeOnTerminal(
      args,
      [
        ['show called?', `Old${enter}`],
        ['in-ears?', ctrlC],
      ],
      { cwd },
    );
    const anew: readonly Typed[] = [
      ['1 answer of an earlier time', `${down}${enter}`],
      ...oneSystem,
      ['First mix', `Singer${enter}`],
      nextMix(''),
      ['slots of the desk', enter],
    ];
    const { exitCode, screen } = await typeOnTerminal(args, anew, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    expect((await readJson(cwd, 'show.json')).title).toBe('show');
  });

  it('asks only for what the options leave open, and prints JSON on standard output', async () => {
    const cwd = await scratchFolder();
    const args = ['rig', 'new', 'show.json', '--title', 'Quay', '--mix', 'Singer=1/2', '--json'];
    const script: readonly Typed[] = [
      ['in-ears?', `${down}${enter}`],
      ['called here?', enter],
      ['another kind?', enter],
      nextMix('Drums'),
      nextMix(''),
      ['slots of the desk', enter],
    ];
    const { exitCode, screen } = await typeOnTerminal(args, script, { cwd });
    expect(exitCode, plainText(screen)).toBe(0);
    const { title, mixes } = await readJson(cwd, 'show.json');
    expect([title, mixes.length]).toEqual(['Quay', 2]);
    expect(plainText(screen)).toContain('"format": "bandwright-rig/1"');
  });

  it('shows no colour where NO_COLOR is set, and nothing that a pasted name would have the terminal do', async () => {
    const cwd = await scratchFolder();
    const script: readonly Typed[] = [
      ['show called?', `Night \u009b31m \u202eof${enter}`],
      ['show called?', `Night "of" 'quotes' \\ {}${enter}`],
      ...oneSystem.slice(1),
      ['First mix', `"O'Neill, left" 3${enter}`],
      nextMix(''),
      ['slots of the desk', enter],
    ];
    const env = { NO_COLOR: '1' };
    const { exitCode, screen } = await typeOnTerminal(['rig', 'new', 'show.json'], script, { cwd, env });
    expect(exitCode, plainText(screen)).toBe(0);
    // 7 and 27 turn a cell round to show the cursor, 8 and 28 hide what stands in it.
    // biome-ignore lint/suspicious/noControlCharactersInRegex: escapes are what is looked for.
    expect(screen).not.toMatch(/\u001b\[(?!(?:7|27|8|28)m)[\d;]*m|[\u009b\u202e]/);
    const { title, mixes } = await readJson(cwd, 'show.json');
    expect([title, mixes[0].name]).toEqual([`Night "of" 'quotes' \\ {}`, "O'Neill, left"]);
  });
});
