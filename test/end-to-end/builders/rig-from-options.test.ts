import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, fixture, run, runLoaded, scratchFolder } from '../run.js';
import { hasTerminal, plainText, typeOnTerminal } from './on-terminal.js';
import { oneLine, readJson } from './typing.js';

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
    [
      'a system twice',
      [...systemFlag, '--system', 'A=wired', '--mix', 'x'],
      /--system: "A=wired" would take the place of "a=analogue,40..15000,50us", since both are called "a"/,
    ],
    ['a mistyped system', [...systemFlag, '--mix', 'x 5/6 pakcs'], /--mix: .*no system is called "pakcs"/],
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
