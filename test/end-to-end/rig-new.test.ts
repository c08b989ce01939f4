import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasTerminal, plainText, type Typed, typeOnTerminal } from './on-terminal.js';
import { filesUnder, fixture, run, runLoaded, scratchFolder } from './run.js';

const readJson = async (...path: readonly string[]) => JSON.parse(await readFile(join(...path), 'utf8'));

/** A wrapped message on one line. */
const oneLine = (text: string): string => text.replace(/\s+/g, ' ');

const enter = '\r';
const down = '\u001b[B';
const escapeKey = '\u001b';
const ctrlC = '\u0003';

/** One analogue system, as a newcomer tells it whose manual prints the usual range. */
const oneSystem: readonly Typed[] = [
  ['show called?', enter],
  ['in-ears?', enter],
  ['audio range', enter],
  ['pre-emphasis', `${down}${enter}`],
  ['called here?', enter],
  ['another kind?', enter],
];

const nextMix = (text: string): Typed => ['◆  Next mix', `${text}${enter}`];

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

const systemFlag = ['--system', 'a=analogue,40..15000,50us'];

describe('rig new, from options', () => {
  it('writes the rig, and tells what to run next', async () => {
    const cwd = await scratchFolder();
    const mixes = ['--mix', 'Singer=1/2:a', '--mix', 'Guest 1=3:b,Bass', '--free-slots', 'Bass:3,4'];
    const args = ['rig', 'new', 'show.json', ...systemFlag, '--system', 'b=digital,20..20k', ...mixes];
    const { exitCode, stderr, stdout } = await run([...args, '--json'], { cwd });
    expect(exitCode, stderr).toBe(0);
    expect(await readJson(cwd, 'show.json')).toEqual(JSON.parse(stdout.toString()));
    expect(JSON.parse(stdout.toString())).toEqual({
      format: 'bandwright-rig/1',
      title: 'show',
      systems: {
        a: { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000, preEmphasisMicroseconds: 50 },
        b: { link: 'digital', audioLowHz: 20, audioHighHz: 20000 },
      },
      mixes: [
        { name: 'Singer', outputs: [1, 2], feeds: 'a' },
        { name: 'Guest 1', outputs: [3], feeds: 'b' },
        { name: 'Bass', outputs: [5, 6], feeds: 'b', freeSlots: ['3', '4'] },
      ],
    });
    expect(stderr).toMatch(/\n {2}bandwright recipe show\.json --target cut-section\n/);
    expect(await filesUnder(cwd)).toEqual(['show.json']);
  });

  it('names every option that is missing, where nobody can be asked', async () => {
    const cwd = await scratchFolder();
    const { exitCode, stderr, stdout } = await runLoaded(['rig', 'new', 'show.json', '--json'], { cwd });
    expect([exitCode, stderr.includes('--system'), stderr.includes('--mix')]).toEqual([2, true, true]);
    const { problems } = JSON.parse(stdout.toString());
    expect(problems.map(({ path }: { path: string }) => path)).toEqual(['--system', '--mix']);
    expect(await filesUnder(cwd)).toEqual([]);
  });

  it.each<[string, readonly string[], RegExp]>([
    ['no range', ['--system', 'a=analogue', '--mix', 'x'], /--system: "a=analogue" lacks the audio range/],
    ['a range in kHz', ['--system', 'a=analogue,40..15', '--mix', 'x'], /--system: .*write 15000/],
    ['no kind', ['--system', 'a=radio', '--mix', 'x'], /"radio" is no kind of link/],
    ['a time constant for a cable', ['--system', 'a=wired,50us', '--mix', 'x'], /has no pre-emphasis/],
    ['one thing too many', ['--system', 'a=wired,1..2,3..4', '--mix', 'x'], /"3..4" is one thing too many/],
    ['an output twice', [...systemFlag, '--mix', 'x=1', '--mix', 'y=1/2'], /--mix: Output 1 is taken by "x"/],
    ['another system', [...systemFlag, '--mix', 'x=1:b'], /No system is called "b". There are: "a"/],
    ['a name twice', [...systemFlag, '--mix', 'x', '--mix', 'x'], /called "x" already/],
    ['no slot', [...systemFlag, '--mix', 'x', '--free-slots', 'x:'], /--free-slots: "x:" names no slot/],
    ['an escape', [...systemFlag, '--mix', 'x\u001b[2J=1'], /--mix: .*\\u\{1b\}/],
  ])('refuses %s, and writes nothing', async (_, args, told) => {
    const cwd = await scratchFolder();
    const { exitCode, stderr } = await runLoaded(['rig', 'new', 'show.json', ...args], { cwd });
    expect(exitCode, stderr).toBe(2);
    expect(oneLine(stderr)).toMatch(told);
    expect(stderr).not.toContain('\u001b');
    expect(await filesUnder(cwd)).toEqual([]);
  });

  it('leaves an existing file as it is without --force, also the one it begins with', async () => {
    const cwd = await scratchFolder();
    await copyFile(fixture('rig-small.json'), join(cwd, 'show.json'));
    const before = await readFile(join(cwd, 'show.json'), 'utf8');
    const args = ['rig', 'new', 'show.json', ...systemFlag, '--mix', 'x'];
    const refused = await runLoaded(args, { cwd });
    expect(refused.exitCode).toBe(4);
    const itself = await runLoaded(['rig', 'new', 'show.json', '--from', 'show.json', '--force'], { cwd });
    expect(itself.exitCode).toBe(4);
    expect(await readFile(join(cwd, 'show.json'), 'utf8')).toBe(before);
    expect((await runLoaded([...args, '--force'], { cwd })).exitCode).toBe(0);
    expect((await readJson(cwd, 'show.json')).mixes).toHaveLength(1);
  });

  it('begins with all that another rig says', async () => {
    const cwd = await scratchFolder();
    const before = await readJson(fixture('rig-full.json'));
    const args = ['rig', 'new', '-', '--from', fixture('rig-full.json'), '--mix', 'One more 501/502'];
    const { exitCode, stdout, stderr } = await runLoaded(args, { cwd });
    expect(exitCode, stderr).toBe(0);
    const after = JSON.parse(stdout.toString());
    const last = before.mixes.at(-1);
    expect(after).toEqual({
      ...before,
      mixes: [...before.mixes, { name: 'One more', outputs: [501, 502], feeds: last.feeds }],
    });
  });

  it('writes XML where the file is called so, and JSON on standard output', async () => {
    const cwd = await scratchFolder();
    const args = ['rig', 'new', 'show.xml', ...systemFlag, '--mix', 'Singer', '--json'];
    const { exitCode, stdout } = await runLoaded(args, { cwd });
    expect(exitCode).toBe(0);
    expect(await readFile(join(cwd, 'show.xml'), 'utf8')).toMatch(/^<\?xml/);
    const converted = await runLoaded(['targets', 'convert', 'show.xml', '--to', 'json'], { cwd });
    expect(JSON.parse(converted.stdout.toString())).toEqual(JSON.parse(stdout.toString()));
  });

  it('leaves a file alone that stands where answers would be kept', async () => {
    const cwd = await scratchFolder();
    await writeFile(join(cwd, 'show.json.draft'), 'mine');
    const args = ['rig', 'new', 'show.json', ...systemFlag, '--mix', 'x'];
    expect((await runLoaded(args, { cwd })).exitCode).toBe(0);
    expect(await readFile(join(cwd, 'show.json.draft'), 'utf8')).toBe('mine');
    if (!hasTerminal) return;
    const asked = await typeOnTerminal(['rig', 'new', 'show.json', '--force'], [], { cwd });
    expect(asked.exitCode).toBe(3);
    expect(oneLine(plainText(asked.screen))).toContain('what stands here is something else');
    expect(await readFile(join(cwd, 'show.json.draft'), 'utf8')).toBe('mine');
  });
});
