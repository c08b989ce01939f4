import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { eachOf, filesUnder, fixture, inFolder, type Run, run, runLoaded } from '../run.js';
import type { RecipeJson, TargetJson } from './shapes.js';

const plainFormats = ['text', 'json', 'xml', 'csv'];
const oscFormats = ['osc', 'osc-binary', 'osc-bundle'];

/** Every way a recipe comes out, by the name of its file. */
export interface Recipe {
  readonly rig: string;
  readonly fit: string;
  readonly target: TargetJson;
  readonly run: Run;
  readonly files: Readonly<Record<string, Buffer>>;
  /** The same once more, where it was made twice. */
  readonly again: Readonly<Record<string, Buffer>> | null;
  readonly json: RecipeJson;
}

/** A rig that asks of a target what it has not. */
export interface Refusal {
  readonly rig: string;
  readonly target: TargetJson;
  readonly run: Run;
  readonly left: readonly string[];
}

export interface Matrix {
  readonly targets: readonly TargetJson[];
  readonly recipes: readonly Recipe[];
  readonly refusals: readonly Refusal[];
  /** What a target without OSC says to each OSC format, and to all formats at once. */
  readonly silent: readonly Refusal[];
}

/**
 * Desks on which a fit is made that searches: every kind of grid, encoding and way OSC travels is among them, outputs that
 * are dialled apart, faders, and a desk without a high cut. `test/cli/default-on-shipped.test.ts` searches on all of them.
 */
export const searched: readonly string[] = [
  'cut-section',
  'decade-steps',
  'digits-3',
  'floats',
  'graphic-31',
  'octave-6',
  'r40',
  'rate-96',
  'top-18',
  'two-legs',
];

/** Of those the ones on which it is made again, to the byte the same. */
export const searchedTwice: readonly string[] = ['cut-section', 'decade-steps', 'octave-6', 'r40', 'rate-96'];

interface Order {
  readonly rig: string;
  readonly fit: string;
  /** How it is made again, if it is. */
  readonly again: typeof runLoaded | null;
}

/** Each rig by its nearest steps; on some desks the smallest also by a fit that moves them. */
const ordersOn = ({ id }: TargetJson): readonly Order[] => [
  { rig: 'rig-small.json', fit: 'nearest', again: null },
  // Elsewhere, too, than where it was made first.
  { rig: 'rig-quay.xml', fit: 'nearest', again: searched.includes(id) ? run : runLoaded },
  { rig: 'rig-24-mixes.json', fit: 'nearest', again: null },
  // Fits that take long are worked out on a thread of their own each time.
  ...(searched.includes(id)
    ? [{ rig: 'rig-small.json', fit: 'protect', again: searchedTwice.includes(id) ? runLoaded : null }]
    : []),
];

export const rigs = ['rig-small.json', 'rig-quay.xml', 'rig-24-mixes.json'];

const parsed = <Value>({ stdout }: Run): Value => JSON.parse(stdout.toString()) as Value;

const shipped = async (): Promise<readonly TargetJson[]> => {
  const list = parsed<{ targets: readonly { id: string }[] }>(await runLoaded(['targets', 'list', '--json']));
  return eachOf(list.targets, async ({ id }) =>
    parsed<TargetJson>(await runLoaded(['targets', 'show', id, '--json'])),
  );
};

type Files = Readonly<Record<string, Buffer>>;

/** What came into a folder; nothing, where it was not even made. */
const contents = async (folder: string): Promise<Files> => {
  const names = await filesUnder(folder).catch(() => []);
  return Object.fromEntries(
    await Promise.all(names.map(async (name) => [name, await readFile(join(folder, name))] as const)),
  );
};

/** Runs every order on every shipped target in every format, some twice, and brings what came out. */
export const runMatrix = (): Promise<Matrix> => inFolder(matrixIn);

const matrixIn = async (folder: string): Promise<Matrix> => {
  let made = 0;
  const recipe = async (
    rig: string,
    fit: string,
    { id }: TargetJson,
    formats: readonly string[],
    runs = runLoaded,
  ) => {
    const output = join(folder, String(made++));
    const options = ['--target', id, '--fit', fit, '--format', formats.join(), '--output', `${output}/`];
    const full = formats.includes('text') ? ['--full'] : [];
    const done = await runs(['recipe', fixture(rig), ...options, ...full]);
    return { run: done, files: await contents(output) };
  };
  const targets = await shipped();
  const pairs = targets.flatMap((target) => ordersOn(target).map((order) => ({ ...order, target })));
  const results = await eachOf(pairs, async ({ rig, fit, again: runsAgain, target }) => {
    const formats = [...plainFormats, ...(target.osc ? oscFormats : [])];
    const first = await recipe(rig, fit, target, formats);
    const json = first.files['recipe.json'];
    if (!json) return { rig, target, run: first.run, left: Object.keys(first.files) };
    const again = runsAgain && (await recipe(rig, fit, target, formats, runsAgain)).files;
    return { rig, fit, target, ...first, again, json: JSON.parse(json.toString()) as RecipeJson };
  });
  const [rig = ''] = rigs;
  const unheard = targets
    .filter(({ osc }) => osc === undefined)
    .flatMap((target) =>
      [...oscFormats.map((format) => [format]), [...plainFormats, ...oscFormats]].map((formats) => ({
        target,
        formats,
      })),
    );
  const silent = await eachOf(unheard, async ({ target, formats }) => {
    const { run, files } = await recipe(rig, 'nearest', target, formats);
    return { rig, target, run, left: Object.keys(files) };
  });
  return {
    targets,
    recipes: results.flatMap((result) => ('json' in result ? [result] : [])),
    refusals: results.flatMap((result) => ('json' in result ? [] : [result])),
    silent,
  };
};
