import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesUnder, fixture, run, runLoaded, scratchFolder } from '../run.js';
import { tryTarget } from './try-target.js';
import { oneLine, readJson } from './typing.js';

const flags = [
  ...[
    '--outputs',
    '16',
    '--slots',
    '4 bells, a low cut and a high cut',
    '--frequency',
    '20 to 20000 in 241 steps',
  ],
  ...['--frequency', '20 to 600 in 60 steps', '--q', '0.5 to 16 in 61 steps', '--gain', '0.5 from -15 to 15'],
  ...['--slope', '12 18 24', '--rate', '48k'],
];

describe('targets new, from options', () => {
  it('writes a target that lints, and from which a recipe can be made', async () => {
    const cwd = await scratchFolder();
    const { exitCode, stderr, stdout } = await run(['targets', 'new', 'our-desk.json', ...flags, '--json'], {
      cwd,
    });
    expect(exitCode, stderr).toBe(0);
    const target = await readJson(cwd, 'our-desk.json');
    expect(JSON.parse(stdout.toString())).toEqual(target);
    expect(target.quantisers['low-cut-frequency']).toEqual({
      kind: 'geometric',
      from: 20,
      to: 600,
      count: 60,
    });
    const rates = target.realisations.map(
      ({ sampleRateHz }: { sampleRateHz: number | null }) => sampleRateHz,
    );
    expect(new Set(rates)).toEqual(new Set([48000, null]));
    expect(oneLine(stderr)).toContain('frequency: 241 values: 20.00 Hz');
    expect((await readJson(cwd, 'our-desk.json')).display.frequency.kiloFromHz).toBe(1000);
    await tryTarget(cwd, 'our-desk.json');
  });

  it('begins with all that another target says, but for what it was called and what was tried with it', async () => {
    const cwd = await scratchFolder();
    const grid = ['--grid', 'q: 0.5 to 16 in 61 steps', '--title', 'Ours', '--provenance', 'Ours too.'];
    const args = ['targets', 'new', 'our-desk.json', '--from', 'cut-section', ...grid, '--rate', '96k'];
    const { exitCode, stderr } = await runLoaded(args, { cwd });
    expect(exitCode, stderr).toBe(0);
    const shown = await runLoaded(['targets', 'show', 'cut-section', '--json'], { cwd });
    const { realisations, ...target } = await readJson(cwd, 'our-desk.json');
    const { realisations: _, ...shipped } = JSON.parse(shown.stdout.toString());
    expect(target).toEqual({
      ...shipped,
      id: 'our-desk',
      title: 'Ours',
      provenance: 'Ours too.',
      quantisers: { ...shipped.quantisers, q: { kind: 'geometric', from: 0.5, to: 16, count: 61 } },
    });
    expect(realisations[0]).toEqual({
      id: 'cookbook-96k',
      design: 'cookbook',
      qMeaning: 'cookbook',
      sampleRateHz: 96000,
    });
    await tryTarget(cwd, 'our-desk.json');
  });

  it('says that what was tried with another target is not taken over', async () => {
    const cwd = await scratchFolder();
    const shown = await runLoaded(['targets', 'show', 'cut-section', '--json'], { cwd });
    const evidence = { grid: 'tested', response: 'untested', push: 'known-bad' };
    await writeFile(
      join(cwd, 'a.json'),
      JSON.stringify({ ...JSON.parse(shown.stdout.toString()), evidence }),
    );
    const { stderr } = await runLoaded(['targets', 'new', 'b.json', '--from', './a.json'], { cwd });
    expect(oneLine(stderr)).toContain('what was tried with cut-section is not taken over');
    expect((await readJson(cwd, 'b.json')).evidence.grid).toBe('untested');
  });

  it('takes both usual sample rates where nobody knows it', async () => {
    const args = ['targets', 'new', '-', ...flags.slice(0, -2)];
    const { exitCode, stdout, stderr } = await runLoaded(args);
    expect(exitCode, stderr).toBe(0);
    const { realisations } = JSON.parse(stdout.toString());
    const rates = realisations.map(({ sampleRateHz }: { sampleRateHz: number | null }) => sampleRateHz);
    expect(new Set(rates)).toEqual(new Set([48000, 96000, null]));
  });

  it('names every option that is missing, where nobody can be asked', async () => {
    const cwd = await scratchFolder();
    const { exitCode, stdout } = await runLoaded(['targets', 'new', 'our-desk.json', '--json'], { cwd });
    expect(exitCode).toBe(2);
    const { problems } = JSON.parse(stdout.toString());
    expect(problems.map(({ path }: { path: string }) => path)).toEqual([
      ...['--outputs', '--slots', '--frequency', '--q', '--gain', '--slope'],
    ]);
    expect(await filesUnder(cwd)).toEqual([]);
  });

  it.each<[string, readonly string[], RegExp]>([
    [
      'a knob whose end nobody saw',
      ['--slots', '2 notches', '--frequency', '20.0k top 19.4k', '--q', '8'],
      /--frequency: Turn the frequency to its bottom stop/,
    ],
    ['a sample rate too low for the grid', [...flags.slice(2, -1), '32k'], /--rate: .*reaches 20000 Hz/],
    ['a slope no cut has', [...flags.slice(2, -3), '13'], /--slope: .*13/],
    [
      'a parameter nobody knows',
      [...flags.slice(2), '--address', 'level=/x'],
      /--address: "level=\/x" does not say of what/,
    ],
    [
      'an address of nothing that is there',
      [...flags.slice(2), '--address', 'gain=/x/1/2'],
      /--address: Nothing asks for it/,
    ],
    ['an escape in a title', [...flags.slice(2), '--title', 'x\u001b[2J'], /--title: .*\\u\{1b\}/],
    [
      'a grid in JSON that makes no sense',
      ['--slots', 'bell', '--frequency', '{"kind":"linear","from":20}'],
      /--frequency: "to" is missing/,
    ],
  ])('refuses %s, and writes nothing', async (_, args, told) => {
    const cwd = await scratchFolder();
    const { exitCode, stderr } = await runLoaded(
      ['targets', 'new', 'our-desk.json', '--outputs', '16', ...args],
      { cwd },
    );
    expect(exitCode, stderr).toBe(2);
    expect(oneLine(stderr)).toMatch(told);
    expect(stderr).not.toContain('\u001b');
    expect(await filesUnder(cwd)).toEqual([]);
  });

  it('leaves an existing file as it is without --force', async () => {
    const cwd = await scratchFolder();
    await copyFile(fixture('rig-small.json'), join(cwd, 'our-desk.json'));
    const before = await readFile(join(cwd, 'our-desk.json'), 'utf8');
    const args = ['targets', 'new', 'our-desk.json', ...flags];
    expect((await runLoaded(args, { cwd })).exitCode).toBe(4);
    expect(await readFile(join(cwd, 'our-desk.json'), 'utf8')).toBe(before);
    expect((await runLoaded([...args, '--force'], { cwd })).exitCode).toBe(0);
    await tryTarget(cwd, 'our-desk.json');
  });
});
