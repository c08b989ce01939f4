import { describe, expect, it } from 'vitest';
import { readRig } from '../../src/documents/read.js';
import { writeXml } from '../../src/documents/write-xml.js';
import type { Rig } from '../../src/model/rig.js';
import { problemsIn, spoilt } from './samples.js';

type Told = Readonly<Record<string, unknown>>;

/** The sample rig, its FM stereo system told otherwise; in either syntax. */
const rigWith = (told: Told): Rig =>
  spoilt('rig', {
    'systems.ears': { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000, ...told },
  }) as Rig;

const inEither = async (told: Told) => {
  const rig = rigWith(told);
  const [json, xml] = [JSON.stringify(rig), writeXml(rig)];
  const found = await Promise.all([json, xml].map((text) => readRig(text, { source: 'x' })));
  return found.map((outcome) =>
    problemsIn(outcome).map(({ code, path, message }) => ({ code, path, message })),
  );
};

/*
 * The ranges are wide about what broadcasting has, audio of 50 Hz to 15 kHz and a pilot at 19 kHz ± 2 Hz
 * (47 CFR 73.322); how wide is common practice, no source.
 */
describe("a link's audio limits and pilot", () => {
  it.each<Told>([
    { audioLowHz: 5 },
    { audioLowHz: 300 },
    { audioHighHz: 8000 },
    { audioHighHz: 18000 },
    { pilotHz: 16000 },
    { audioHighHz: 18000, pilotHz: 18000.5 },
    { pilotHz: 22000 },
  ])('may be %o', async (told) => {
    expect(await inEither(told)).toEqual([[], []]);
  });

  it.each<{ readonly told: Told; readonly key: string; readonly says: readonly string[] }>([
    {
      told: { audioLowHz: 4.9 },
      key: 'audioLowHz',
      says: ['between 5 and 300 Hz, not at 4.9 Hz', 'data sheet'],
    },
    { told: { audioLowHz: 301 }, key: 'audioLowHz', says: ['not at 301 Hz', 'data sheet'] },
    { told: { audioLowHz: 0.04 }, key: 'audioLowHz', says: ['0.04 looks like kHz: write 40.'] },
    { told: { audioHighHz: 7999 }, key: 'audioHighHz', says: ['between 8000 and 18000 Hz', 'data sheet'] },
    { told: { audioHighHz: 18001 }, key: 'audioHighHz', says: ['not at 18001 Hz', 'data sheet'] },
    { told: { audioHighHz: 15 }, key: 'audioHighHz', says: ['15 looks like kHz: write 15000.'] },
    // Nearer to 0 than to 15 kHz, and below audioLowHz: told once all the same.
    { told: { audioHighHz: 20 }, key: 'audioHighHz', says: ['not at 20 Hz', 'data sheet'] },
    { told: { pilotHz: 15999 }, key: 'pilotHz', says: ['between 16000 and 22000 Hz', 'data sheet'] },
    { told: { pilotHz: 22001 }, key: 'pilotHz', says: ['not at 22001 Hz', 'data sheet'] },
    { told: { pilotHz: 19 }, key: 'pilotHz', says: ['19 looks like kHz: write 19000.'] },
    { told: { pilotHz: 19.001 }, key: 'pilotHz', says: ['write 19001.'] },
    {
      told: { audioLowHz: 15000, audioHighHz: 40 },
      key: 'audioLowHz',
      says: ['swapped. Write 40 for audioLowHz and 15000 for audioHighHz.'],
    },
  ])('are no $told', async ({ told, key, says }) => {
    const [json = [], xml] = await inEither(told);
    expect(xml).toEqual(json);
    expect(json.map(({ code, path }) => [code, path])).toEqual([['link-limits', `systems.ears.${key}`]]);
    for (const part of says) expect(json[0]?.message).toContain(part);
  });

  it('are each told where several are wrong', async () => {
    const [json = []] = await inEither({ audioLowHz: 0.04, audioHighHz: 15, pilotHz: 19 });
    expect(json.map(({ path }) => path.split('.').at(-1))).toEqual(['audioLowHz', 'audioHighHz', 'pilotHz']);
  });

  it('are of no matter to links without a pilot', async () => {
    for (const link of ['digital', 'wired']) {
      const rig = spoilt('rig', { 'systems.ears': { link, audioLowHz: 1, audioHighHz: 40000 } });
      expect(problemsIn(readRig(JSON.stringify(rig), { source: 'x' }))).toEqual([]);
    }
  });
});

/* 50 µs: ITU-R BS.450; 75 µs: 47 CFR 73.317; 25 µs and none: from memory, in few links. */
describe("a link's pre-emphasis", () => {
  it.each([0, 25, 50, 75, 1, 60, 500, 1000])('may be %d µs', async (preEmphasisMicroseconds) => {
    expect(await inEither({ preEmphasisMicroseconds })).toEqual([[], []]);
  });

  // A microsecond is a millionth of a second and a thousandth of a millisecond.
  it.each([
    [0.00005, 'that is 50 microseconds in seconds: write 50.'],
    [0.000075, 'that is 75 microseconds in seconds: write 75.'],
    [0.000025, 'that is 25 microseconds in seconds: write 25.'],
    [0.05, 'that is 50 microseconds in milliseconds: write 50.'],
    [0.075, 'that is 75 microseconds in milliseconds: write 75.'],
    [0.025, 'that is 25 microseconds in milliseconds: write 25.'],
    [0.06, 'that is 60 microseconds in milliseconds: write 60.'],
    [0.5, '0 for none, or at least 1, not 0.5. Usual are 50 or 75, in few links 25 or 0.'],
    [0.00000005, 'at least 1, not 5e-8.'],
  ])('is no %d µs', async (preEmphasisMicroseconds, says) => {
    const [json = [], xml] = await inEither({ preEmphasisMicroseconds });
    expect(xml).toEqual(json);
    expect(json.map(({ code, path }) => [code, path])).toEqual([
      ['pre-emphasis-in-microseconds', 'systems.ears.preEmphasisMicroseconds'],
    ]);
    expect(json[0]?.message).toContain(says);
  });

  it.each([-1, 1000.5])('is out of all range at %d µs', async (preEmphasisMicroseconds) => {
    const [json = []] = await inEither({ preEmphasisMicroseconds });
    expect(json.map(({ code }) => code)).toEqual(['out-of-range']);
    expect(json[0]?.message).toContain('allowed is from 0 up to 1000');
  });
});
