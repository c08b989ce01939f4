import { readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { changed, targetJson } from './bad-input/samples.js';
import { filesUnder, fixture, run, scratchFolder } from './run.js';

const Papa: {
  parse(
    text: string,
    options: { header: true; newline: string; skipEmptyLines: true },
  ): {
    readonly data: readonly Readonly<Record<string, string>>[];
    readonly errors: readonly unknown[];
  };
} = createRequire(import.meta.url)('papaparse');

interface Point {
  readonly keepLossAtMostDb: number;
  readonly keepLossDb: number;
  readonly pilotAttenuationDb: number;
  readonly filters: readonly unknown[];
}

interface TradeoffJson {
  readonly target: string;
  readonly pilotHz: number;
  readonly windowHz: number;
  readonly keepHighHz: number;
  readonly frontier: readonly Point[];
  readonly nearest: Omit<Point, 'keepLossAtMostDb'>;
  readonly asked: {
    readonly pilotAttenuationDb: number;
    readonly reached: Omit<Point, 'keepLossAtMostDb'>;
  };
}

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

const tradeoff = (...more: readonly string[]) =>
  run(['check', '--tradeoff', '--target', 'cut-section', ...more]);

describe('check --tradeoff', () => {
  it('draws a table and a plot of what stands in its JSON', async () => {
    const [plain, json] = await Promise.all([tradeoff(), tradeoff('--json')]);
    expect([plain.exitCode, plain.stderr, json.exitCode, json.stderr]).toEqual([0, '', 0, '']);
    const { frontier, nearest } = JSON.parse(json.stdout.toString()) as TradeoffJson;
    const text = plain.stdout.toString();
    const rows = text.split('\n').filter((line) => /^ *(\d+\.\d\d|nearest) +\d/.test(line));
    expect(rows).toHaveLength(frontier.length + 1);
    [...frontier, { ...nearest, keepLossAtMostDb: null }].forEach((point, index) => {
      const [within, lost, pilot] = rows[index]?.trim().split(/ +/) ?? [];
      expect([within, lost, pilot]).toEqual([
        point.keepLossAtMostDb?.toFixed(2) ?? 'nearest',
        point.keepLossDb.toFixed(2),
        point.pilotAttenuationDb.toFixed(1),
      ]);
    });
    const canvas = text.split('\n').filter((line) => / \|/.test(line));
    expect(canvas.join('').match(/N/g)).toHaveLength(1);
    expect(canvas.join('').match(/o/g)?.length).toBeGreaterThan(5);
    expect(text).toMatch(/^attenuation at the pilot, dB$/m);
    expect(text).toMatch(/^ +music lost, dB$/m);
    expect(Math.max(...text.split('\n').map(({ length }) => length))).toBeLessThanOrEqual(80);
  });

  it('says the same in CSV', async () => {
    const [csv, json] = await Promise.all([tradeoff('--csv'), tradeoff('--json')]);
    const { frontier, nearest, asked } = JSON.parse(json.stdout.toString()) as TradeoffJson;
    const { data, errors } = Papa.parse(csv.stdout.toString(), {
      header: true,
      newline: '\r\n',
      skipEmptyLines: true,
    });
    expect(errors).toEqual([]);
    const numbers = data.map((row) => [
      row.chosen_by,
      row.keep_loss_limit_db === '' ? null : Number(row.keep_loss_limit_db),
      Number(row.keep_loss_db),
      Number(row.pilot_attenuation_db),
    ]);
    const sixDigits = (values: readonly number[]) => values.map((value) => Number(value.toPrecision(6)));
    const figures = ({ keepLossDb, pilotAttenuationDb }: TradeoffJson['nearest']) =>
      sixDigits([keepLossDb, pilotAttenuationDb]);
    expect(numbers).toEqual([
      ...frontier.map((each) => ['protect', ...sixDigits([each.keepLossAtMostDb]), ...figures(each)]),
      ['nearest', null, ...figures(nearest)],
      ['least-loss-as-asked', null, ...figures(asked.reached)],
    ]);
    for (const { settings } of data) expect(settings).toContain('bell at 18.88 kHz');
  });

  it('is about the pilot, the window and the music that are asked for, and may spend further slots', async () => {
    const asked = ['--pilot', '18.5k', '--window', '50 Hz', '--keep-high', '10k', '--json'];
    const [one, two] = await Promise.all([tradeoff(...asked), tradeoff(...asked, '--spare-slots', '1')]);
    const [single, pair] = [one, two].map(({ stdout }) => JSON.parse(stdout.toString()) as TradeoffJson);
    expect(single).toMatchObject({ target: 'cut-section', pilotHz: 18500, windowHz: 50, keepHighHz: 10000 });
    const most = (of: TradeoffJson | undefined) => of?.frontier.at(-1);
    expect(most(single)?.filters).toHaveLength(3);
    expect(most(pair)?.filters).toHaveLength(4);
    expect(most(pair)?.pilotAttenuationDb).toBeGreaterThan(most(single)?.pilotAttenuationDb ?? Infinity);
  });
});

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
      run(['check']),
      run(['check', '--json']),
      run(['targets', 'list', '--json']),
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
      run(['check', '--target', 'octave-12', '--json']),
      run(['check', '--target', 'octave-12', '--keep-loss', '0.5', '--json']),
      run(['recipe', '-', '--target', 'octave-12', '--json'], {
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
    const [plain, json] = await Promise.all([run(args, { cwd }), run([...args, '--json'], { cwd })]);
    expect(reachIn(json).targets.map(({ name, id }) => [name, id])).toEqual([
      ['./b.json', 'pier-desk'],
      ['r40', 'r40'],
      ['./a.json', 'pier-desk'],
    ]);
    const rows = plain.stdout.toString().match(/^(\S+)(?= +\d+\.\d{3})/gm);
    expect(rows).toEqual(['./b.json', 'r40', './a.json']);
    const alone = await run(['check', '--target', './a.json'], { cwd });
    expect(alone.stdout.toString()).toMatch(/^pier-desk: A desk for tests$/m);
  });

  it('judges a setting over the pilot’s window, and says by way of building what it does', async () => {
    const [wide, narrow] = await Promise.all([
      run(['check', '--target', 'octave-12', '--json']),
      run(['check', '--target', 'octave-12', '--window', '20', '--json']),
    ]);
    expect([reachIn(wide).windowHz, reachIn(narrow).windowHz]).toEqual([100, 20]);
    const least = (of: typeof wide) => reachIn(of).targets[0]?.reach.narrowest?.leastDb ?? 0;
    // The same cut beside the pilot: the far edge of a wider window lies farther from it.
    expect(least(narrow)).toBeGreaterThan(least(wide));
    const text = (await run(['check', '--target', 'octave-12'])).stdout.toString();
    const best = reachIn(wide).targets[0]?.reach.best;
    const rows = [...text.matchAll(/^ {2}(?:[a-z]+-\d+k|analogue) +(\d+\.\d) +\d+\.\d$/gm)];
    expect(rows.map(([, taken]) => taken)).toEqual(
      best?.byRealisation.map((each) => each.pilotAttenuationDb.toFixed(1)),
    );
  });

  it('says of a notch on the pilot that it is beyond measure only where it is in every way', async () => {
    const [sharp] = await Promise.all([run(['check', '--target', 'hertz-1', '--window', '0.0001'])]);
    // A true notch at its own frequency is endless however it is built (W3C Audio EQ Cookbook: |H| = 0 at w0).
    expect(sharp.stdout.toString()).toMatch(/^ {2}least +over 100 /m);
  });
});

interface PartJson {
  readonly toSeconds: number;
  readonly lock: { readonly kept: boolean; readonly peakRadians: number };
  readonly stereo: Readonly<Record<'swappedShare' | 'foldedShare' | 'narrowedShare', number>>;
  readonly peakDeviation: number;
}

interface HearJson {
  readonly file: string;
  readonly sampleRateHz: number;
  readonly gainDb: number;
  readonly realisation: { readonly id: string };
  readonly pilotAttenuationDb: number;
  readonly link: Readonly<Record<string, number>>;
  readonly without: PartJson;
  readonly with: PartJson & { readonly fromSeconds: number };
}

const hear = (cwd: string, ...more: readonly string[]) =>
  run(['check', '--hear', 'hear.wav', '--target', 'cut-section', ...more], { cwd });

/** RIFF/WAVE, linear PCM of 24 bits in two channels: the samples of the left one, 1 being full scale. */
const leftOf = (wav: Buffer): { readonly rateHz: number; readonly left: Float64Array } => {
  expect([wav.toString('latin1', 0, 4), wav.toString('latin1', 8, 16)]).toEqual(['RIFF', 'WAVEfmt ']);
  expect([wav.readUInt16LE(20), wav.readUInt16LE(22), wav.readUInt16LE(34)]).toEqual([1, 2, 24]);
  expect(wav.readUInt32LE(4)).toBe(wav.length - 8);
  expect(wav.readUInt32LE(40)).toBe(wav.length - 44);
  const frames = (wav.length - 44) / 6;
  const left = Float64Array.from({ length: frames }, (_, n) => wav.readIntLE(44 + 6 * n, 3) / (2 ** 23 - 1));
  return { rateHz: wav.readUInt32LE(24), left };
};

const rms = (samples: Float64Array): number =>
  Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);

describe('check --hear', () => {
  it('writes sound, silence and sound, and says what was taken for it', async () => {
    const folder = await scratchFolder();
    const { exitCode, stdout, stderr } = await hear(folder);
    expect([exitCode, stdout.length]).toEqual([0, 0]);
    expect(await filesUnder(folder)).toEqual(['hear.wav']);
    const { rateHz, left } = leftOf(await readFile(join(folder, 'hear.wav')));
    expect([rateHz, left.length]).toEqual([48000, 480_000]);
    // 4.5 s without, 1 s of silence, 4.5 s with.
    const [first, pause, second] = [
      left.subarray(0, 216_000),
      left.subarray(216_000, 264_000),
      left.subarray(264_000),
    ];
    expect(rms(pause)).toBe(0);
    expect(rms(first)).toBeGreaterThan(0.01);
    expect(rms(second)).toBeGreaterThan(0.01);
    const said = unwrapped(stderr);
    for (const part of [
      'Wrote hear.wav',
      'Start with the level all the way down',
      'not hearing protection',
      'line-up 0 dBFS',
      'pre-emphasis 75 microseconds',
      'loop noise bandwidth 30 Hz',
      'gain none',
      'without 0.0 to 4.5 s: left and right SWAPPED',
      'with 5.5 to 10.0 s: stereo whole all the time',
      'swapped: the pilot is more than 45 degrees off',
      // 40 log10 cot φ: 6 dB at 35.3°, 20 dB at 17.5°.
      'folded: separation below 6 dB, 35 degrees',
      'narrowed: below 20 dB, 18 degrees',
    ]) {
      expect(said).toContain(part);
    }
    const [, without, filtered] =
      /-18 dBFS RMS .* takes up to (\d+) % of deviation without them, (\d+) % with them/.exec(said) ?? [];
    expect(Number(without)).toBeLessThanOrEqual(100);
    expect(Number(filtered)).toBeLessThan(Number(without));
  });

  it('gives the figures as JSON, for the way of building that does least unless one is named', async () => {
    const [first, second, tradeoffs] = await Promise.all([
      hear(await scratchFolder(), '--json', '--keep-loss', '1'),
      hear(await scratchFolder(), '--json', '--keep-loss', '1', '--realisation', 'cookbook-48k'),
      tradeoff('--json'),
    ]);
    const [least, named] = [first, second].map(({ stdout }) => JSON.parse(stdout.toString()) as HearJson);
    expect(least).toMatchObject({
      file: 'hear.wav',
      sampleRateHz: 48000,
      gainDb: 0,
      levelDbfs: -18,
      link: { pilotHz: 19000, lineUpDbfs: 0, preEmphasisMicroseconds: 75, loopNoiseBandwidthHz: 30 },
      without: { toSeconds: 4.5, lock: { kept: false } },
      with: {
        fromSeconds: 5.5,
        toSeconds: 10,
        lock: { kept: true },
        stereo: { swappedShare: 0, foldedShare: 0 },
      },
    });
    expect(least?.without.stereo.swappedShare).toBeGreaterThan(0.1);
    expect(least?.without.peakDeviation).toBeLessThanOrEqual(1);
    const { frontier } = JSON.parse(tradeoffs.stdout.toString()) as TradeoffJson;
    const withinOne = frontier.find(({ keepLossAtMostDb }) => keepLossAtMostDb === 1);
    expect(least?.pilotAttenuationDb).toBeCloseTo(withinOne?.pilotAttenuationDb ?? Number.NaN, 9);
    expect(named?.realisation.id).toBe('cookbook-48k');
    expect(named?.pilotAttenuationDb).toBeGreaterThan(least?.pilotAttenuationDb ?? Infinity);
    expect(named?.with.lock.peakRadians).toBeLessThan(least?.with.lock.peakRadians ?? 0);
  });

  it('ends with 1 where even the protection cannot hold the pilot', async () => {
    const folder = await scratchFolder();
    const { exitCode, stderr } = await run(['check', '--hear', 'hear.wav', '-t', 'graphic-31'], {
      cwd: folder,
    });
    expect(unwrapped(stderr)).toMatch(/with 5\.5 to 10\.0 s: left and right SWAPPED \d+\.\d % of the time/);
    expect(exitCode).toBe(1);
    expect(await filesUnder(folder)).toEqual(['hear.wav']);
  });

  it('takes a line-up that is stated, and renders nothing where the link could not carry it', async () => {
    const folder = await scratchFolder();
    const lined = await hear(folder, '--line-up', '+3 dBFS', '--json');
    const usual = await hear(await scratchFolder(), '--json');
    const [higher, plain] = [lined, usual].map(({ stdout }) => JSON.parse(stdout.toString()) as HearJson);
    expect(higher?.link.lineUpDbfs).toBe(3);
    // The pilot's 9 % stay, and 3 dB less of the rest; the peak of both together may move by a little.
    const programmeOf = (json: HearJson | undefined) => (json?.without.peakDeviation ?? 0) - 0.09;
    expect(20 * Math.log10(programmeOf(plain) / programmeOf(higher))).toBeCloseTo(3, 0);

    const other = await scratchFolder();
    const refused = await hear(other, '--line-up', '-12');
    expect([refused.exitCode, await filesUnder(other)]).toEqual([2, []]);
    const said = unwrapped(refused.stderr);
    expect(said).toMatch(
      /--line-up: Over-deviation: lined up at -12 dBFS the programme, -18 dBFS RMS, asks for \d{3} %/,
    );
    const [, least = ''] = /Name (\S+) dBFS or more/.exec(said) ?? [];
    const [within, below] = await Promise.all([
      hear(await scratchFolder(), '--line-up', least),
      hear(await scratchFolder(), '--line-up', String(Number(least) - 0.5)),
    ]);
    expect([within?.exitCode, below?.exitCode]).toEqual([0, 2]);
  });

  it('replaces no file without --force', async () => {
    const folder = await scratchFolder();
    await writeFile(join(folder, 'hear.wav'), 'mine');
    const refused = await hear(folder);
    expect([refused.exitCode, (await readFile(join(folder, 'hear.wav'))).toString()]).toEqual([4, 'mine']);
    expect(refused.stderr).toContain('[output-exists]');
    expect((await hear(folder, '--force')).exitCode).toBe(0);
    expect(leftOf(await readFile(join(folder, 'hear.wav'))).left).toHaveLength(480_000);
  });

  it('goes into a folder under a name of its own', async () => {
    const folder = await scratchFolder();
    const { exitCode } = await run(['check', '--hear', 'sounds/', '-t', 'cut-section'], { cwd: folder });
    expect([exitCode, await filesUnder(folder)]).toEqual([0, ['sounds', 'sounds/hear.wav']]);
  });
});

describe('what a guard is asked for on the command line', () => {
  it('comes before what the rig asks for, and leaves the rest of it', async () => {
    const rig = JSON.parse(await readFile(fixture('rig-small.json'), 'utf8')) as object;
    const guard = { windowHz: 200, keepLowHz: 100, keepLossAtMostDb: 3, pilotAttenuationAtLeastDb: 12 };
    const asked = ['--window', '50', '--keep-high', '10 kHz', '--keep-loss', '2 dB'];
    const { stdout } = await run(['recipe', '-', '-t', 'log-179', '--json', ...asked], {
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

  it.each([
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
    { args: [...check, '--csv'], says: ['--csv', '--tradeoff'] },
    { args: [...check, '--force'], says: ['--force', '--hear'] },
    { args: [...check, '--spare-slots', '1'], says: ['--spare-slots', '--tradeoff or --hear'] },
    { args: [...check, '--realisation', 'analogue'], says: ['--realisation', '--hear'] },
    { args: [...check, '--pilot', '12k'], says: ['--pilot', '16000 and 22000 Hz, not at 12000 Hz'] },
    { args: [...check, '--line-up', '-6'], says: ['--line-up', '--hear'] },
    { args: [...check, '--hear', 'x.wav', '--line-up', '30'], says: ['--line-up', '-60 to 24 dBFS'] },
    { args: [...check, '--hear', 'x.wav', '--line-up', '3 Hz'], says: ['--line-up', '"3 Hz"'] },
    { args: [...check, '--tradeoff', '--keep-loss', '2'], says: ['--tradeoff', '--keep-loss'] },
    { args: [...check, '--tradeoff', '--hear', 'x.wav'], says: ['--tradeoff', '--hear'] },
    {
      args: [...check, '--tradeoff', '--window', '999', '--keep-high', '18.5k'],
      says: ['--keep-high', '18500 Hz'],
    },
    { args: ['check', '--target', 'r40,'], says: ['--target', 'Between commas'] },
    { args: ['check', '--target', 'r40,r41'], says: ['"r41"', 'Did you mean r40?'] },
    { args: ['check', '--tradeoff', '--target', 'r40,octave-6'], says: ['--target', 'one desk at a time'] },
    {
      args: ['check', '--hear', 'x.wav', '--target', 'r40', '--target', 'octave-6'],
      says: ['--target', 'one desk at a time'],
    },
    { args: ['check', '--tradeoff'], says: ['--target', 'bandwright check --tradeoff --target log-179'] },
    { args: ['check', '--hear', 'x.wav'], says: ['--target', 'bandwright check --hear'] },
    { args: [...check, '--hear', '-'], says: ['--hear', 'hear.wav'] },
    { args: [...check, '--hear', ''], says: ['--hear', 'name a file'] },
    {
      args: [...check, '--hear', 'x.wav', '--realisation', 'cookbok-48k'],
      says: ['--realisation', 'did you mean "cookbook-48k"?'],
    },
    {
      args: [...check, '--hear', 'x.wav', '--pilot', '15k', '--keep-high', '10k'],
      says: ['--pilot', '16000 and 22000 Hz'],
    },
  ])('is refused where it makes no sense: $args', async ({ args, says }) => {
    const folder = await scratchFolder();
    const { exitCode, stdout, stderr } = await run(args, { cwd: folder });
    const said = unwrapped(stderr);
    for (const part of says) expect(said).toContain(part);
    expect([exitCode, stdout.toString(), await filesUnder(folder)]).toEqual([2, '', []]);
  });
});
