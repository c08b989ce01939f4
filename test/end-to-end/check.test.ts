import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { changed, targetJson } from './bad-input/samples.js';
import { filesUnder, fixture, runLoaded, scratchFolder } from './run.js';

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

interface SettingJson {
  readonly set: { readonly frequencyHz: number };
  readonly byRealisation: readonly { readonly pilotAttenuationDb: number; readonly keepLossDb: number }[];
  readonly leastDb: number;
  readonly mostDb: number;
}

interface ReachJson {
  readonly windowHz: number;
  readonly targets: readonly {
    readonly name: string;
    readonly id: string;
    readonly reach: {
      readonly nearest: { readonly offsetHz: number } | null;
      readonly keepLossAtMostDb: number;
      readonly best: SettingJson | null;
      readonly narrowest: SettingJson | null;
    };
  }[];
}

const reachIn = ({ stdout }: { readonly stdout: Buffer }) => JSON.parse(stdout.toString()) as ReachJson;

describe('check', () => {
  it('tells every shipped grid in the order of their ids, each by one setting, of its worst way and its best', async () => {
    const [plain, json, listed] = await Promise.all([
      runLoaded(['check']),
      runLoaded(['check', '--json']),
      runLoaded(['targets', 'list', '--json']),
    ]);
    expect([plain.exitCode, plain.stderr]).toEqual([0, '']);
    const { targets } = JSON.parse(listed.stdout.toString()) as { targets: readonly { id: string }[] };
    const told = reachIn(json).targets;
    expect(told.map(({ id }) => id)).toEqual(targets.map(({ id }) => id));
    const lines = plain.stdout.toString().split('\n');
    for (const { id, reach } of told) {
      const taken = reach.best?.byRealisation.map((each) => each.pilotAttenuationDb) ?? [];
      expect([reach.best?.leastDb, reach.best?.mostDb]).toEqual([Math.min(...taken), Math.max(...taken)]);
      for (const each of reach.best?.byRealisation ?? []) {
        expect(each.keepLossDb).toBeLessThanOrEqual(reach.keepLossAtMostDb);
      }
      const [least, most] = [Math.min(...taken).toFixed(1), Math.max(...taken).toFixed(1)];
      const shown = least === most ? least : `${least} to ${most}`;
      expect(lines.find((line) => line.startsWith(`${id} `))).toContain(` ${shown} `);
    }
    expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(80);
    expect(unwrapped(plain.stdout.toString())).toContain('bandwright compare RIG');
  });

  it('takes as limit what a recipe lets the filters as asked cost, unless one is stated', async () => {
    const [usual, stated, recipe] = await Promise.all([
      runLoaded(['check', '--target', 'octave-12', '--json']),
      runLoaded(['check', '--target', 'octave-12', '--keep-loss', '0.5', '--json']),
      runLoaded(['recipe', '-', '--target', 'octave-12', '--json'], {
        stdin: (await readFile(fixture('rig-small.json'), 'utf8')).replace(
          '"audioLowHz": 50',
          '"audioLowHz": 40',
        ),
      }),
    ]);
    const { mixes } = JSON.parse(recipe.stdout.toString()) as {
      readonly mixes: readonly {
        readonly guard: { readonly limits: { readonly keepLossAsAskedDb: number } };
      }[];
    };
    const limitOf = (each: typeof usual) => reachIn(each).targets[0]?.reach.keepLossAtMostDb;
    expect([limitOf(usual), limitOf(stated)]).toEqual([mixes[0]?.guard.limits.keepLossAsAskedDb, 0.5]);
  });

  it('takes files of one’s own beside shipped targets, told apart by their paths', async () => {
    const cwd = await scratchFolder();
    await writeFile(join(cwd, 'a.json'), targetJson);
    await writeFile(join(cwd, 'b.json'), changed(targetJson, '"q": 8', '"q": 3'));
    const args = ['check', '--target', './b.json,r40', '--target', './a.json'];
    const [plain, json] = await Promise.all([
      runLoaded(args, { cwd }),
      runLoaded([...args, '--json'], { cwd }),
    ]);
    expect(reachIn(json).targets.map(({ name, id }) => [name, id])).toEqual([
      ['./b.json', 'pier-desk'],
      ['r40', 'r40'],
      ['./a.json', 'pier-desk'],
    ]);
    const rows = plain.stdout.toString().match(/^(\S+)(?= +\d+\.\d{3})/gm);
    expect(rows).toEqual(['./b.json', 'r40', './a.json']);
    const alone = await runLoaded(['check', '--target', './a.json'], { cwd });
    expect(alone.stdout.toString()).toMatch(/^pier-desk: A desk for tests$/m);
  });

  it('judges a setting over the pilot’s window, and says by way of building what it does', async () => {
    const [wide, narrow] = await Promise.all([
      runLoaded(['check', '--target', 'octave-12', '--json']),
      runLoaded(['check', '--target', 'octave-12', '--window', '20', '--json']),
    ]);
    expect([reachIn(wide).windowHz, reachIn(narrow).windowHz]).toEqual([100, 20]);
    const least = (of: typeof wide) => reachIn(of).targets[0]?.reach.narrowest?.leastDb ?? 0;
    // The same cut beside the pilot: the far edge of a wider window lies farther from it.
    expect(least(narrow)).toBeGreaterThan(least(wide));
    const text = (await runLoaded(['check', '--target', 'octave-12'])).stdout.toString();
    const best = reachIn(wide).targets[0]?.reach.best;
    const rows = [...text.matchAll(/^ {2}(?:[a-z]+-\d+k|analogue) +(\d+\.\d) +\d+\.\d$/gm)];
    expect(rows.map(([, taken]) => taken)).toEqual(
      best?.byRealisation.map((each) => each.pilotAttenuationDb.toFixed(1)),
    );
  });

  it('says of a notch on the pilot that it is beyond measure only where it is in every way', async () => {
    const [sharp] = await Promise.all([runLoaded(['check', '--target', 'hertz-1', '--window', '0.0001'])]);
    // A true notch at its own frequency is endless however it is built (W3C Audio EQ Cookbook: |H| = 0 at w0).
    expect(sharp.stdout.toString()).toMatch(/^ {2}least +over 100 /m);
  });
});

describe('what were options of check once', () => {
  it.each([
    { args: ['--tradeoff', '--target', 'log-179'], says: 'bandwright tradeoff --target' },
    { args: ['--target', 'log-179', '--tradeoff', '--csv'], says: 'bandwright tradeoff --target' },
    { args: ['--hear', 'x.wav', '-t', 'r40', '--force'], says: 'bandwright hear --target' },
    { args: ['--hear'], says: 'bandwright hear --target' },
    { args: ['show.json', '-t', 'r40', '--to', '127.0.0.1'], says: 'bandwright inspect show.json --target' },
  ])('name the command to use: check $args', async ({ args, says }) => {
    const cwd = await scratchFolder();
    const [plain, json] = await Promise.all([
      runLoaded(['check', ...args], { cwd }),
      runLoaded(['check', ...args, '--json'], { cwd }),
    ]);
    expect([plain.exitCode, plain.stdout.toString(), await filesUnder(cwd)]).toEqual([2, '', []]);
    expect(plain.stderr).toContain(says);
    expect(json.exitCode).toBe(2);
    expect(JSON.parse(json.stdout.toString())).toMatchObject({
      problems: [{ code: 'usage', message: expect.stringContaining(says) }],
    });
  });

  it('are in no help text', async () => {
    const { stdout } = await runLoaded(['check', '--help']);
    expect(stdout.toString()).not.toMatch(/--(tradeoff|hear|to)\b/);
  });

  it('and a rig is none of its business', async () => {
    const { exitCode, stderr } = await runLoaded(['check', fixture('rig-small.json')]);
    expect([exitCode, stderr]).toEqual([2, expect.stringContaining("too many arguments for 'check'")]);
  });
});

describe('what a guard is asked for on the command line', () => {
  it('comes before what the rig asks for, and leaves the rest of it', async () => {
    const rig = JSON.parse(await readFile(fixture('rig-small.json'), 'utf8')) as object;
    const guard = { windowHz: 200, keepLowHz: 100, keepLossAtMostDb: 3, pilotAttenuationAtLeastDb: 12 };
    const asked = ['--window', '50', '--keep-high', '10 kHz', '--keep-loss', '2 dB'];
    const { stdout } = await runLoaded(['recipe', '-', '-t', 'log-179', '--json', ...asked], {
      stdin: JSON.stringify({ ...rig, guard }),
    });
    const { mixes } = JSON.parse(stdout.toString()) as { readonly mixes: readonly { guard: unknown }[] };
    expect(mixes[0]?.guard).toMatchObject({
      windowHz: 50,
      keepLowHz: 100,
      keepHighHz: 10000,
      limits: { keepLossAtMostDb: 2, pilotAttenuationAtLeastDb: 12 },
    });
  });

  const recipe = ['recipe', fixture('rig-small.json'), '--target', 'log-179'];
  const intents = ['recipe', fixture('intents.json'), '--target', 'log-179'];
  const check = ['check', '--target', 'log-179'];
  const tradeoff = ['tradeoff', '--target', 'log-179'];
  const hear = ['hear', '--target', 'log-179', '--output', 'x.wav'];

  it.each([
    { args: [...recipe, '--target', 'r40'], says: ['--target', 'one desk at a time'] },
    { args: [...recipe, '--window', '0'], says: ['--window', 'not above zero'] },
    { args: [...recipe, '--window', '1500'], says: ['--window', '1000 Hz'] },
    { args: [...recipe, '--window', '5 dB'], says: ['--window', '"dB" after the number'] },
    { args: [...recipe, '--keep-high', '70'], says: ['--keep-high', '80 Hz'] },
    { args: [...recipe, '--keep-high', '18.95k'], says: ['--keep-high', '19000 Hz +-100 Hz'] },
    { args: [...recipe, '--keep-high', '30k'], says: ['--keep-high', '24000 Hz', 'log-179'] },
    { args: [...recipe, '--keep-loss', '-1'], says: ['--keep-loss', '-1 dB', '0 to 60'] },
    { args: [...recipe, '--keep-loss', '61'], says: ['--keep-loss', '61 dB', '0 to 60'] },
    { args: [...intents, '--keep-loss', '2'], says: ['--keep-loss', 'no pilot to guard'] },
    { args: [...intents, '--window', '50'], says: ['--window', 'no pilot to guard'] },
    { args: [...check, '--csv'], says: ["unknown option '--csv'"] },
    { args: [...check, '--spare-slots', '1'], says: ["unknown option '--spare-slots'"] },
    { args: [...check, '--realisation', 'analogue'], says: ["unknown option '--realisation'"] },
    { args: [...check, '--pilot', '12k'], says: ['--pilot', '16000 and 22000 Hz, not at 12000 Hz'] },
    { args: [...check, '--line-up', '-6'], says: ["unknown option '--line-up'"] },
    { args: [...hear, '--line-up', '30'], says: ['--line-up', '-60 to 24 dBFS'] },
    { args: [...hear, '--line-up', '3 Hz'], says: ['--line-up', '"3 Hz"'] },
    { args: [...hear, '--seconds', '0.5'], says: ['--seconds', '1 to 30 seconds'] },
    { args: [...hear, '--seconds', '31 s'], says: ['--seconds', '1 to 30 seconds'] },
    { args: [...hear, '--seconds', '2 Hz'], says: ['--seconds', '"2 Hz"'] },
    { args: [...hear, '--csv'], says: ["unknown option '--csv'"] },
    { args: [...tradeoff, '--keep-loss', '2'], says: ["unknown option '--keep-loss'"] },
    { args: [...tradeoff, '--keep-loss-to-reach', '2'], says: ["unknown option '--keep-loss-to-reach'"] },
    { args: [...tradeoff, '--rate', '96000'], says: ["unknown option '--rate'"] },
    {
      args: [...tradeoff, '--window', '999', '--keep-high', '18.5k'],
      says: ['--keep-high', '18500 Hz'],
    },
    { args: ['check', '--target', 'r40,'], says: ['--target', 'Between commas'] },
    { args: ['check', '--target', 'r40,r41'], says: ['"r41"', 'Did you mean r40?'] },
    { args: ['tradeoff', '--target', 'r40,octave-6'], says: ['--target', 'one desk at a time'] },
    {
      args: ['hear', '-o', 'x.wav', '--target', 'r40', '--target', 'octave-6'],
      says: ['--target', 'one desk at a time'],
    },
    { args: ['tradeoff'], says: ['--target', 'not specified'] },
    { args: ['hear', '--output', 'x.wav'], says: ['--target', 'not specified'] },
    { args: ['hear', '--target', 'log-179'], says: ['--output', 'not specified'] },
    { args: ['hear', '--target', 'log-179', '--output', '-'], says: ['--output', 'hear.wav'] },
    { args: ['hear', '--target', 'log-179', '--output', ''], says: ['--output', 'name a file'] },
    {
      args: [...hear, '--realisation', 'cookbok-48k'],
      says: ['--realisation', 'did you mean "cookbook-48k"?'],
    },
    {
      args: [...hear, '--pilot', '15k', '--keep-high', '10k'],
      says: ['--pilot', '16000 and 22000 Hz'],
    },
  ])('is refused where it makes no sense: $args', async ({ args, says }) => {
    const folder = await scratchFolder();
    const { exitCode, stdout, stderr } = await runLoaded(args, { cwd: folder });
    const said = unwrapped(stderr);
    for (const part of says) expect(said).toContain(part);
    expect([exitCode, stdout.toString(), await filesUnder(folder)]).toEqual([2, '', []]);
  });
});
