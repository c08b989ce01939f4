import { spawn } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { ComparedDesk } from '../../src/analysis/compare/compared-desk.js';
import type { Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import { changed, rigJson, targetJson } from './bad-input/samples.js';
import { binary, environment, filesUnder, fixture, type Run, run, runLoaded, scratchFolder } from './run.js';

const Papa: {
  parse(
    text: string,
    options: { header: true; newline: string; skipEmptyLines: true },
  ): {
    readonly data: readonly Readonly<Record<string, string>>[];
    readonly errors: readonly unknown[];
  };
} = createRequire(import.meta.url)('papaparse');

const small = fixture('rig-small.json');
const large = fixture('rig-24-mixes.json');

/** Of the large one two that are guarded, the first with few free slots, and the last, on output 47. */
const short = async (): Promise<string> => {
  const rig = JSON.parse(await readFile(large, 'utf8')) as Rig;
  const mixes = [...rig.mixes.slice(0, 2), ...rig.mixes.slice(-1)];
  return JSON.stringify({ ...rig, mixes });
};

type Placed = ComparedDesk & { readonly place: number };

const compare = (rig: string, targets: string, ...more: readonly string[]): Promise<Run> =>
  runLoaded(['compare', rig, '--targets', targets, ...more]);

const desksIn = ({ stdout }: Run): readonly Placed[] =>
  (JSON.parse(stdout.toString()) as { readonly desks: readonly Placed[] }).desks;

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

describe('compare', () => {
  it('tells of each desk what its recipe tells, the best first', async () => {
    const ids = ['top-18', 'octave-6', 'r40', 'rate-96'];
    const [compared, ...recipes] = await Promise.all([
      compare(small, ids.join(), '--json'),
      ...ids.map((id) => runLoaded(['recipe', small, '--target', id, '--json'])),
    ]);
    expect([compared?.exitCode, compared?.stderr]).toEqual([0, '']);
    const desks = desksIn(compared as Run);
    expect(desks.map(({ place }) => place)).toEqual([1, 2, 3, 4]);
    for (const [index, id] of ids.entries()) {
      const { mixes } = JSON.parse(recipes[index]?.stdout.toString() ?? '') as Recipe;
      const guards = mixes.flatMap(({ guard }) => guard ?? []);
      expect(desks.find((desk) => desk.id === id)).toMatchObject({
        fits: true,
        verdict: guards.every(({ verdict }) => verdict === 'met') ? 'met' : 'falls-short',
        guardedMixCount: 2,
        pilot: { attenuationDb: Math.min(...guards.map(({ worst }) => worst.pilotAttenuationDb)) },
        keepLossDb: Math.max(...guards.map(({ worst }) => worst.keepLossDb)),
        missing: mixes[0]?.missing.map((each) => ({ ...each, mixCount: 2 })),
      });
    }
    // The order as --help states it, of these figures: what meets its guard for less music, then for more at the pilot.
    const keys = desks.map((desk) => {
      if (!desk.fits) throw new Error(`the rig does not fit on ${desk.id}`);
      const { verdict, missing, keepLossDb, pilot } = desk;
      const halves = Math.ceil(Number((keepLossDb ?? 0).toFixed(1)) / 0.5);
      return [verdict === 'met' ? 0 : 1, missing.length, halves, -(pilot?.attenuationDb ?? 0)];
    });
    const inOrder = keys.toSorted((a, b) => a.map((each, i) => each - (b[i] ?? 0)).find((d) => d !== 0) ?? 0);
    expect(keys).toEqual(inOrder);
    expect(desks.at(-1)?.id).toBe('top-18');
  });

  it('gives the same bytes on however many threads', async () => {
    const [one, ...others] = await Promise.all(
      ['1', '2', '7'].map((threads) =>
        compare(small, 'r40,octave-24,rate-96', '--threads', threads, '--json'),
      ),
    );
    expect(desksIn(one as Run)).toHaveLength(3);
    for (const other of others) expect(other).toEqual(one);
  });

  it('takes every shipped desk where none is named, in words and with those on which the rig does not fit last', async () => {
    const listed = await runLoaded(['targets', 'list', '--json']);
    const { targets } = JSON.parse(listed.stdout.toString()) as { targets: readonly { id: string }[] };
    // An example of its help, in a process of its own.
    const cwd = await scratchFolder();
    await writeFile(join(cwd, 'show.json'), await short());
    const { exitCode, stdout, stderr } = await run(['compare', 'show.json'], { cwd });
    expect([exitCode, stderr]).toEqual([0, '']);
    const rows = stdout
      .toString()
      .split('\n')
      .flatMap((line) => {
        const found = /^(?<id>[a-z][a-z0-9-]*) +(?<verdict>GUARD MET|FALLS SHORT|DOES NOT FIT) /.exec(line);
        return found?.groups ? [found.groups] : [];
      });
    expect(rows.map(({ id }) => id).sort()).toEqual(targets.map(({ id }) => id).sort());
    const verdicts = rows.map(({ verdict }) => verdict ?? '');
    const rank = ['GUARD MET', 'FALLS SHORT', 'DOES NOT FIT'];
    expect(verdicts.map((each) => rank.indexOf(each))).toEqual(
      verdicts.map((each) => rank.indexOf(each)).toSorted((a, b) => a - b),
    );
    // The rig ends at output 47 and names slots 5 and 6; octave-6 has 16 outputs and five slots.
    expect(unwrapped(stdout.toString())).toContain(
      'octave-6 DOES NOT FIT it has outputs 1 to 16, and the rig uses 47; it has no slot "6"',
    );
  });

  it('reads the rig, or a target, from standard input', async () => {
    const named = await compare(small, 'r40,octave-6');
    const piped = await runLoaded(['compare', '-', '--targets', 'r40,octave-6'], {
      stdin: await readFile(small),
    });
    expect(piped).toEqual(named);
    const desk = await runLoaded(['compare', small, '--targets', '-,r40', '--json'], { stdin: targetJson });
    expect(desksIn(desk).map(({ name, id }) => `${name} ${id}`)).toContain('- pier-desk');
  });

  it('says the same in CSV', async () => {
    const targets = 'r40,top-18,four-band,graphic-31';
    const args = ['compare', '-', '--targets', `${targets},octave-24`];
    const stdin = await short();
    const [csv, json] = await Promise.all([
      runLoaded([...args, '--csv'], { stdin }),
      runLoaded([...args, '--json'], { stdin }),
    ]);
    const { data, errors } = Papa.parse(csv.stdout.toString(), {
      header: true,
      newline: '\r\n',
      skipEmptyLines: true,
    });
    expect(errors).toEqual([]);
    const numberOf = (text: string | undefined) => (text === '' ? null : Number(text));
    const sixDigits = (value = Number.NaN) => Number(value.toPrecision(6));
    expect(
      data.map((row) => [
        row.place,
        row.target,
        row.verdict,
        numberOf(row.pilot_attenuation_db),
        numberOf(row.dials),
      ]),
    ).toEqual(
      desksIn(json).map((desk) =>
        desk.fits
          ? [`${desk.place}`, desk.id, desk.verdict, sixDigits(desk.pilot?.attenuationDb), desk.dials.knobs]
          : [`${desk.place}`, desk.id, 'does-not-fit', null, null],
      ),
    );
    expect(data[0]).toMatchObject({ missing: 'no high cut on 1 of 2 mixes', unfit_because: '' });
    expect(data[1]?.unfit_because).toMatch(/^it has outputs 1 to \d+, and the rig uses 47/);
  });

  it('takes files of one’s own, told apart by their paths where their ids are the same', async () => {
    const cwd = await scratchFolder();
    await writeFile(join(cwd, 'a.json'), targetJson);
    await writeFile(join(cwd, 'b.json'), changed(targetJson, '"q": 8', '"q": 3'));
    await writeFile(join(cwd, 'show.json'), rigJson);
    const { stdout, exitCode } = await runLoaded(
      ['compare', 'show.json', '--targets', './a.json,./b.json,r40'],
      {
        cwd,
      },
    );
    const lines = stdout.toString().split('\n');
    expect(lines.filter((line) => /^(\.\/[ab]\.json|r40) /.test(line))).toHaveLength(3);
    expect(exitCode).toBe(0);
  });

  it('holds desks to the guard that is asked for on the command line', async () => {
    const asked = [
      '--attenuation',
      '12',
      '--window',
      '50',
      '--keep-high',
      '10k',
      '--keep-loss',
      '0.5',
      '--spare-slots',
      '1',
    ];
    const [compared, recipe] = await Promise.all([
      compare(small, 'octave-6', ...asked, '--json'),
      runLoaded(['recipe', small, '--target', 'octave-6', ...asked, '--json']),
    ]);
    const [guard] = (JSON.parse(recipe.stdout.toString()) as Recipe).mixes.flatMap((mix) => mix.guard ?? []);
    expect(guard?.limits).toMatchObject({ pilotAttenuationAtLeastDb: 12, keepLossAtMostDb: 0.5 });
    expect(desksIn(compared)[0]).toMatchObject({
      pilot: { attenuationDb: guard?.worst.pilotAttenuationDb, askedDb: 12 },
      keepLossDb: guard?.worst.keepLossDb,
    });
  });

  it.each([
    { targets: 'r40', exit: 0 },
    // No low cut near 50 Hz there: it is fixed at 80 Hz, more than a third of an octave off.
    { targets: 'top-18', exit: 1 },
    { targets: 'top-18,r40', exit: 0 },
  ])('ends with $exit on $targets', async ({ targets, exit }) => {
    expect((await compare(small, targets)).exitCode).toBe(exit);
  });

  it('keeps a rig off a desk that cannot carry what is asked, and no other', async () => {
    // A window up to 22.1 kHz: built at 44.1 kHz nothing is there, at 96 kHz it is.
    const rig = changed(rigJson, '"pilotHz": 19000', '"pilotHz": 22000');
    const { stdout } = await runLoaded(['compare', '-', '--targets', 'r40,rate-96', '--json'], {
      stdin: rig,
    });
    expect(desksIn({ stdout } as Run).map(({ id, fits }) => [id, fits])).toEqual([
      ['rate-96', true],
      ['r40', false],
    ]);
  });
});

describe('a comparison that cannot be made', () => {
  it.each([
    { args: [small, '--targets', 'r40,'], exit: 2, says: ['--targets', 'Between commas'] },
    { args: [small, '--targets', ''], exit: 2, says: ['--targets', 'r40,./our-desk.json'] },
    { args: [small, '--targets', 'r40,r41'], exit: 2, says: ['"r41"', 'Did you mean r40?'] },
    { args: ['-', '--targets', '-'], exit: 2, says: ['cannot both come from standard input'] },
    { args: [small, '--threads', '0'], exit: 2, says: ['--threads', 'less than 1'] },
    { args: [small, '--keep-loss', '-1'], exit: 2, says: ['--keep-loss', '-1 dB'] },
    { args: [small, '--keep-high', '18.95k'], exit: 2, says: ['--keep-high', '19000 Hz +-100 Hz'] },
    {
      args: [small, '--keep-loss', '1', '--keep-loss-to-reach', '2'],
      exit: 2,
      says: ['--keep-loss-to-reach'],
    },
    { args: [fixture('intents.json')], exit: 3, says: ['a rig belongs here'] },
    { args: [small, '--targets', './gone.json'], exit: 4, says: ['gone.json'] },
    { args: ['gone.json'], exit: 4, says: ['gone.json'] },
  ])('ends with $exit: $args', async ({ args, exit, says }) => {
    const { exitCode, stdout, stderr } = await runLoaded(['compare', ...args]);
    const said = unwrapped(stderr);
    for (const part of says) expect(said).toContain(part);
    expect(exitCode).toBe(exit);
    expect(stdout.length).toBe(0);
  });

  /** A kind of grid that is at fault on any thread but the first. */
  const moduleThat = (fault: string): string => `
import { writeSync } from 'node:fs';
import { isMainThread } from 'node:worker_threads';
const create = ({ value }) => {
  if (!isMainThread) ${fault};
  const valueAt = (step) => {
    if (step !== 0) throw new RangeError('there is one step');
    return value;
  };
  return { ok: true, value: { count: 1, valueAt } };
};
export default { kind: 'only', summary: 'one value', create };
`;

  const folderWith = async (fault: string): Promise<string> => {
    const cwd = await scratchFolder();
    await writeFile(join(cwd, 'only.mjs'), moduleThat(fault));
    await writeFile(join(cwd, 'show.json'), rigJson);
    const kind = '"kind": "linear", "from": -15, "to": 15, "step": 1';
    await writeFile(join(cwd, 'desk.json'), changed(targetJson, kind, '"kind": "only", "value": -12'));
    return cwd;
  };

  const onOwnKind = ['compare', 'show.json', '--targets', './desk.json,r40', '--quantiser', './only.mjs'];

  it.each([
    ['throws', "throw new Error('not here')", 'not here'],
    ['ends it', 'process.exit(0)', 'ended by itself'],
  ])('where what runs on a thread %s, by a fault that is told as such', async (_, fault, says) => {
    const { exitCode, stdout, stderr } = await run(onOwnKind, { cwd: await folderWith(fault) });
    expect([exitCode, stdout.length]).toEqual([70, 0]);
    expect(stderr).toContain('this is a fault of the tool itself');
    expect(stderr).toContain(says);
  });

  const onOwnDesk = ['--target', './desk.json', '--quantiser', './only.mjs'];
  const recipeOnOwnKind = ['recipe', 'show.json', ...onOwnDesk];

  it.each([
    ['compare', 'SIGINT', onOwnKind],
    ['compare', 'SIGTERM', onOwnKind],
    ['recipe', 'SIGINT', [...recipeOnOwnKind, '--spare-slots', '1', '--output', 'recipe.txt']],
    ['tradeoff', 'SIGINT', ['tradeoff', ...onOwnDesk]],
    ['hear', 'SIGINT', ['hear', ...onOwnDesk, '--output', 'new/hear.wav']],
  ] as const)('%s ends on %s, however busy its threads are', async (_, signal, args) => {
    const cwd = await folderWith("{ writeSync(2, 'begun'); for (;;); }");
    const before = await filesUnder(cwd);
    const child = spawn(process.execPath, [binary, ...args], {
      cwd,
      env: environment(),
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const [out, err]: [Buffer[], Buffer[]] = [[], []];
    child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
    child.stderr.on('data', (chunk: Buffer) => {
      err.push(chunk);
      if (chunk.includes('begun')) child.kill(signal);
    });
    const exitCode = await new Promise((resolve) => child.on('close', resolve));
    expect([exitCode, Buffer.concat(out).length]).toEqual([130, 0]);
    expect(Buffer.concat(err).toString()).toContain('interrupted');
    expect(await filesUnder(cwd)).toEqual(before);
  });
});
