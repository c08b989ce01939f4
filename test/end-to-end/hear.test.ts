import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, run, runLoaded, scratchFolder } from './run.js';

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

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

/** Long enough for the pilot to be lost, where the length is not what is asked. */
const brief = ['--seconds', '1.5'];

const hear = (cwd: string, ...more: readonly string[]) =>
  runLoaded(['hear', '--output', 'hear.wav', '--target', 'cut-section', ...brief, ...more], { cwd });

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

/** What is rendered where only the length is asked, as JSON, in place of a file that was there. */
const replacing = async () => {
  const folder = await scratchFolder();
  await writeFile(join(folder, 'hear.wav'), 'mine');
  const replaced = await hear(folder, '--force', '--json');
  return { replaced, samples: leftOf(await readFile(join(folder, 'hear.wav'))).left };
};

let rendered: ReturnType<typeof replacing> | undefined;

/** The same once for all that ask. */
const usual = () => {
  rendered ??= replacing();
  return rendered;
};

const rms = (samples: Float64Array): number =>
  Math.sqrt(samples.reduce((sum, sample) => sum + sample * sample, 0) / samples.length);

describe('hear', () => {
  it('writes sound, silence and sound, and says what was taken for it', async () => {
    const folder = await scratchFolder();
    // In a process of its own.
    const args = ['hear', '--output', 'hear.wav', '--target', 'cut-section'];
    const { exitCode, stdout, stderr } = await run(args, { cwd: folder });
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
      runLoaded(['tradeoff', '--target', 'cut-section', '--json']),
    ]);
    const [least, named] = [first, second].map(({ stdout }) => JSON.parse(stdout.toString()) as HearJson);
    expect(least).toMatchObject({
      file: 'hear.wav',
      sampleRateHz: 48000,
      gainDb: 0,
      levelDbfs: -18,
      link: { pilotHz: 19000, lineUpDbfs: 0, preEmphasisMicroseconds: 75, loopNoiseBandwidthHz: 30 },
      without: { toSeconds: 1.5, lock: { kept: false } },
      with: {
        fromSeconds: 2.5,
        toSeconds: 4,
        lock: { kept: true },
        stereo: { swappedShare: 0, foldedShare: 0 },
      },
    });
    expect(least?.without.stereo.swappedShare).toBeGreaterThan(0.1);
    expect(least?.without.peakDeviation).toBeLessThanOrEqual(1);
    const { frontier } = JSON.parse(tradeoffs.stdout.toString()) as {
      readonly frontier: readonly {
        readonly keepLossAtMostDb: number;
        readonly pilotAttenuationDb: number;
      }[];
    };
    const withinOne = frontier.find(({ keepLossAtMostDb }) => keepLossAtMostDb === 1);
    expect(least?.pilotAttenuationDb).toBeCloseTo(withinOne?.pilotAttenuationDb ?? Number.NaN, 9);
    expect(named?.realisation.id).toBe('cookbook-48k');
    expect(named?.pilotAttenuationDb).toBeGreaterThan(least?.pilotAttenuationDb ?? Infinity);
    expect(named?.with.lock.peakRadians).toBeLessThan(least?.with.lock.peakRadians ?? 0);
  });

  it('ends with 1 where even the protection cannot hold the pilot', async () => {
    const folder = await scratchFolder();
    const { exitCode, stderr } = await runLoaded(['hear', '-o', 'hear.wav', '-t', 'graphic-31', ...brief], {
      cwd: folder,
    });
    expect(unwrapped(stderr)).toMatch(/with 2\.5 to 4\.0 s: left and right SWAPPED \d+\.\d % of the time/);
    expect(exitCode).toBe(1);
    expect(await filesUnder(folder)).toEqual(['hear.wav']);
  });

  it('replaces no file without --force', async () => {
    const folder = await scratchFolder();
    await writeFile(join(folder, 'hear.wav'), 'mine');
    const refused = await hear(folder);
    expect([refused.exitCode, (await readFile(join(folder, 'hear.wav'))).toString()]).toEqual([4, 'mine']);
    expect(refused.stderr).toContain('[output-exists]');
    expect((await usual()).replaced.exitCode).toBe(0);
    // 1.5 s, 1 s of silence and 1.5 s, at 48 kHz.
    expect((await usual()).samples).toHaveLength(192_000);
  });

  it('takes a line-up that is stated, and renders nothing where the link could not carry it', async () => {
    const lined = await hear(await scratchFolder(), '--line-up', '+3 dBFS', '--json');
    const [higher, plain] = [lined, (await usual()).replaced].map(
      ({ stdout }) => JSON.parse(stdout.toString()) as HearJson,
    );
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
    // The pilot's 9 % may add to the programme's crest or take from it: 20 log10(1.09 / 0.91), 1.6 dB; and least is rounded up.
    const below = await hear(await scratchFolder(), '--line-up', String(Number(least) - 1.7));
    expect(below.exitCode).toBe(2);
    // Into a folder, under a name of its own.
    const folder = await scratchFolder();
    const args = ['hear', '--output', 'sounds/', '-t', 'cut-section', '--line-up', least, ...brief];
    const within = await runLoaded(args, { cwd: folder });
    expect([within.exitCode, await filesUnder(folder)]).toEqual([0, ['sounds', 'sounds/hear.wav']]);
  });
});
