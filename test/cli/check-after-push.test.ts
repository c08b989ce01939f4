import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runInspect } from '../../src/cli/inspect/inspect.js';
import { runPush } from '../../src/cli/push/push.js';
import { runVerify } from '../../src/cli/verify/verify.js';
import { writeJson } from '../../src/documents/write-json.js';
import { protect } from '../../src/fitting/protect/protect.js';
import type { Desk } from '../../src/model/desk.js';
import type { Guard, Recipe } from '../../src/model/recipe.js';
import type { Rig } from '../../src/model/rig.js';
import { startStandin } from '../../src/node/standin/start-standin.js';
import { shippedTargets } from '../../src/node/targets.js';
import { makeRecipe, type RecipeOptions } from '../../src/recipes/make-recipe.js';
import { db, hz, q } from '../../src/units/quantity.js';
import { shippedDesk, rig as show } from '../live/recipe-on.js';
import { type Captured, captured } from './captured.js';

/*
 * The commands themselves, over real sockets against a stand-in, in this one process: fifty programs would take minutes
 * to start.
 */

const unwrapped = (text: string): string => text.replace(/\s+/g, ' ');

interface Output {
  readonly state: string;
  readonly worst: { readonly pilotAttenuationDb: number } | null;
  readonly recipe: { readonly stands: boolean; readonly pilotAttenuationDb: number } | null;
  readonly findings: readonly { readonly kind: string; readonly weight: string }[];
  readonly messages: readonly string[];
}

interface CheckReport {
  readonly result: string;
  readonly mixes: readonly {
    readonly name: string;
    readonly state: string;
    readonly guard: Pick<Guard, 'limits' | 'pilotHz' | 'windowHz'>;
    readonly read: readonly Output[];
  }[];
  readonly assumptions: readonly { readonly code: string }[];
}

interface LiveReport {
  readonly mixes: readonly {
    readonly name: string;
    readonly state: string;
    readonly guard: Pick<Guard, 'verdict' | 'limits' | 'worst'> | null;
    readonly missing: Recipe['mixes'][number]['missing'];
  }[];
}

/** What is asked for at the pilot on purpose far beyond any desk. */
const beyondDb = db(100);

/** A pilot cut that a person wrote stays where it is put, so that there is little left to search. */
const written: Rig = {
  ...show,
  intents: [{ role: 'pilot-cut', type: 'peaking', frequencyHz: hz(19000), q: q(8), gainDb: db(-6) }],
  guard: { pilotAttenuationAtLeastDb: beyondDb },
};

type Asked = Partial<Pick<RecipeOptions, 'spareSlots' | 'guard'>>;

const known = new Map<string, Recipe>();

/** The recipe of a rig; several tests begin with the same one. */
const made = (rig: Rig, desk: Desk, asked: Asked): Recipe => {
  const key = JSON.stringify([desk.target.id, rig, asked]);
  const recipe = known.get(key) ?? fitted(rig, desk, asked);
  known.set(key, recipe);
  return recipe;
};

const fitted = (rig: Rig, desk: Desk, asked: Asked): Recipe => {
  const recipe = makeRecipe(rig, desk, { fit: protect, spareSlots: 0, ...asked });
  if (!recipe.ok) throw new Error(JSON.stringify(recipe.error));
  return recipe.value;
};

/** A rig and its recipe as files, and a stand-in of the desk: every slot off, or anyhow, by a seed. */
const rehearsal = async (id: string, rig: Rig, asked: Asked = {}, seed: number | null = null) => {
  const desk = await shippedDesk(id);
  const recipe = made(rig, desk, asked);
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const [rigFile, recipeFile] = [join(folder, 'show.json'), join(folder, 'recipe.json')];
  await writeFile(rigFile, JSON.stringify(rig));
  await writeFile(recipeFile, writeJson(recipe));
  const kind = desk.target.osc?.transports[0]?.kind ?? 'udp';
  const standin = await startStandin({
    desk,
    kind,
    port: 0,
    bind: '127.0.0.1',
    ...(seed === null ? {} : { scatter: true, seed }),
  });
  if (!standin.ok) throw new Error(JSON.stringify(standin.error));
  onTestFinished(() => standin.value.close());
  const reach = {
    to: `127.0.0.1:${standin.value.port}`,
    target: id,
    rate: 5000,
    timeout: 250,
    retries: 7,
    quantiser: [],
  };
  const journalFolder = join(folder, 'journals');
  return {
    recipe,
    push: (json = false) =>
      captured((terminal) =>
        runPush(recipeFile, { ...reach, yes: true, acceptNames: true, journalFolder, json }, terminal),
      ),
    verify: (json = false) => captured((terminal) => runVerify(recipeFile, { ...reach, json }, terminal)),
    check: (options: object = {}) =>
      captured((terminal) =>
        runInspect(rigFile, { ...reach, format: 'text', spareSlots: 0, ...options }, terminal),
      ),
  };
};

const reportOf = <Report>({ out }: Captured): Report => JSON.parse(out) as Report;

/** Any word that tells somebody to turn a filter. */
const toTurn = /\bSet\b|\bsets\b|Move it|[Ww]iden|Deepen|Switch it on|Turn it|protective filters/;

const decimal = (valueDb: number): string => `${valueDb.toFixed(1)} dB`;

const readable = (await Promise.all((await shippedTargets()).map(({ id }) => shippedDesk(id))))
  .filter(({ target: { osc } }) => osc && osc.read !== 'none')
  .map(({ target }) => target.id);

/** One for each way values are sent and read back, and for outputs that are dialled apart. */
const otherwiseMade = ['digits-3', 'floats', 'log-179', 'octave-6', 'r40', 'rate-96', 'two-legs'];

describe('check of a desk that was set to its recipe', () => {
  it.each(readable)('%s: asks for nothing else, and says what falls short', async (id) => {
    const { recipe, push, check } = await rehearsal(id, show);
    expect((await push()).exitCode).toBe(0);
    const json = await check({ json: true });
    const report = reportOf<CheckReport>(json);
    const text = unwrapped((await check()).out);
    expect(text).not.toMatch(toTurn);
    for (const mix of report.mixes) {
      const guard = recipe.mixes.find(({ name }) => name === mix.name)?.guard;
      if (!guard) throw new Error(`${mix.name} has no guard`);
      // What is told is what the recipe promised, judged by the same limits.
      const isShort = guard.worst.pilotAttenuationDb < guard.limits.pilotAttenuationAtLeastDb;
      expect(mix.guard.limits).toEqual(guard.limits);
      expect(mix.state).toBe(isShort ? 'at-risk' : 'safe');
      for (const { worst, findings, recipe: beside } of mix.read) {
        expect(worst?.pilotAttenuationDb).toBeCloseTo(guard.worst.pilotAttenuationDb, 3);
        expect(findings.map(({ kind }) => kind)).toEqual(isShort ? ['as-recipe'] : []);
        expect(beside?.stands ?? null).toBe(isShort ? true : null);
      }
      const sentence = `: ${decimal(guard.worst.pilotAttenuationDb)} of the ${decimal(guard.limits.pilotAttenuationAtLeastDb)} asked`;
      expect(text.includes(sentence)).toBe(isShort);
    }
    const isSafe = report.mixes.every(({ state }) => state === 'safe');
    expect([json.exitCode, report.result]).toEqual(isSafe ? [0, 'done'] : [1, 'falls-short']);
    // A desk that is safe costs no fit.
    expect(json.doing.some((doing) => doing.startsWith('Fitting'))).toBe(!isSafe);
  });

  it.each(otherwiseMade)('%s: says so where more is asked than it can do', async (id) => {
    const { recipe, push, check } = await rehearsal(id, written);
    expect((await push()).exitCode).toBe(0);
    const { exitCode, out } = await check();
    expect(exitCode).toBe(1);
    expect(unwrapped(out)).not.toMatch(toTurn);
    const guard = recipe.mixes[0]?.guard;
    const most = decimal(guard?.worst.pilotAttenuationDb ?? Number.NaN);
    expect(unwrapped(out)).toMatch(
      new RegExp(`as good as this desk can do( without a slot more)?: ${most} of the 100.0 dB asked`),
    );
    expect(unwrapped(out)).toMatch(
      /^Of 2 mixes 2 leave their pilots at risk \(as good as their recipes\)\. /,
    );
  });

  it('agrees with a recipe of the same options, and with no other', async () => {
    const guard = { pilotAttenuationAtLeastDb: beyondDb, windowHz: hz(150) };
    const { push, check } = await rehearsal('rate-96', { ...written, guard: {} }, { spareSlots: 1, guard });
    await push();
    const kinds = async (options: object): Promise<readonly string[]> =>
      reportOf<CheckReport>(await check({ json: true, ...options })).mixes.flatMap(({ read }) =>
        read.flatMap(({ findings }) =>
          findings.flatMap(({ kind, weight }) => (weight === 'risk' ? [kind] : [])),
        ),
      );
    const same = { spareSlots: 1, window: hz(150), attenuation: beyondDb };
    expect(new Set(await kinds(same))).toEqual(new Set(['as-recipe']));
    expect(await kinds({ ...same, spareSlots: 0 })).not.toContain('as-recipe');
    expect(await kinds({ ...same, keepLoss: db(1) })).not.toContain('as-recipe');
  });

  it('tells of what is missing, not to set it', async () => {
    // Two slots, one for the cut at the pilot and one for the high cut; none is left for the low cut.
    const mixes = show.mixes.map((mix) => ({ ...mix, freeSlots: ['5', '6'] }));
    const { recipe, push, check, verify } = await rehearsal('two-legs', { ...written, mixes });
    const missing = recipe.mixes[0]?.missing ?? [];
    expect(missing.length).toBeGreaterThan(0);
    const pushed = await push();
    for (const text of [pushed.err, (await verify()).err]) {
      for (const { role } of missing) {
        expect(unwrapped(text)).toMatch(
          new RegExp(`no ${role.replace('-', ' ')} \\((no place for it|better)`),
        );
      }
    }
    const { out } = await check();
    expect(unwrapped(out)).not.toMatch(toTurn);
    for (const { role } of missing) expect(unwrapped(out)).toContain(`no ${role.replace('-', ' ')} is on, `);
  });
});

describe('check of a desk that stands otherwise than its recipe', () => {
  it('tells slot and values of the recipe, and what that comes to', async () => {
    const { recipe, push, check } = await rehearsal('cut-section', show);
    const { exitCode, out } = await check();
    expect(exitCode).toBe(1);
    const [mix] = recipe.mixes;
    for (const { slot, steps } of mix?.filters ?? []) {
      // What the desk shows at those steps, and nothing its grids have not.
      const shown = Object.values(steps).map(({ display }) => display);
      for (const display of shown) expect(unwrapped(out)).toContain(display);
      expect(unwrapped(out)).toMatch(new RegExp(`slot ${slot} to [^;.]*${shown[0]?.split(' ')[0]}`));
    }
    const then = decimal(mix?.guard?.worst.pilotAttenuationDb ?? Number.NaN);
    expect(unwrapped(out)).toContain(`Then the pilot is ${then} down.`);
    expect(unwrapped(out)).toContain('have performers take their in-ears out');
    await push();
    expect((await check()).exitCode).toBe(0);
  });

  it.each(
    ['two-legs', 'octave-6', 'r40', 'rate-96'].flatMap((id) => [1, 2].map((seed) => [id, seed] as const)),
  )('%s, anyhow (%i): what it says a setting comes to is what that comes to', async (id, seed) => {
    const { push, check } = await rehearsal(id, written, {}, seed);
    const before = reportOf<CheckReport>(await check({ json: true }));
    expect((await push()).exitCode).toBe(0);
    const after = reportOf<CheckReport>(await check({ json: true }));
    for (const [index, mix] of before.mixes.entries()) {
      for (const [leg, { recipe }] of mix.read.entries()) {
        const now = after.mixes[index]?.read[leg];
        expect(recipe?.pilotAttenuationDb).toBeCloseTo(now?.worst?.pilotAttenuationDb ?? Number.NaN, 3);
        expect(now?.recipe?.stands).toBe(true);
        const risks = now?.findings.filter(({ weight }) => weight === 'risk').map(({ kind }) => kind);
        // What stands in slots that no recipe uses may lift the pilot, or take so much besides that it is safe.
        const expected = now?.state === 'safe' ? [] : ['as-recipe'];
        expect(risks?.filter((kind) => kind !== 'lifts-pilot')).toEqual(expected);
      }
    }
  });

  // A bell has its own gain at its centre (W3C Audio EQ Cookbook), and what a person wrote is lost beside the 3 dB that
  // may be lost to reach what is asked; a limit that is stated is hard. 1280 Hz is a point figures are taken at.
  it.each<[string, NonNullable<Rig['guard']>, number, boolean]>([
    ['beside 3 dB', {}, 3 + 6, false],
    ['at a limit that is stated', { keepLossAtMostDb: db(2) }, 2, true],
  ])('judges what music is lost as a recipe does: %s', async (_, guard, mostDb, isStated) => {
    const dip = { role: 'dip', type: 'peaking', frequencyHz: hz(1280), q: q(1), gainDb: db(-6) } as const;
    const rig: Rig = { ...show, intents: [dip], guard };
    const { recipe, check } = await rehearsal('cut-section', rig);
    const [mix] = reportOf<CheckReport>(await check({ json: true })).mixes;
    expect(mix?.guard.limits.keepLossAtMostDb).toBeCloseTo(mostDb, 2);
    expect(mix?.guard.limits).toEqual(recipe.mixes[0]?.guard?.limits);
    expect(mix?.guard.limits.keepLossAsAskedDb === null).toBe(isStated);
  });

  it('keeps to itself how figures are worked out', async () => {
    const { check } = await rehearsal('cut-section', {
      ...show,
      systems: {
        ...show.systems,
        packs: {
          link: 'fm-stereo',
          audioLowHz: hz(40),
          audioHighHz: hz(15000),
          encoderLowpassHz: hz(17000),
          encoderLowpassDbPerOctave: 48 as never,
        },
      },
    });
    const { mixes } = reportOf<CheckReport>(await check({ json: true }));
    expect(mixes[0]?.guard && Object.keys(mixes[0].guard)).toEqual([
      'pilotHz',
      'windowHz',
      'keepLowHz',
      'keepHighHz',
      'preEmphasisMicroseconds',
      'lineUpDbfs',
      'limits',
    ]);
    expect(JSON.stringify(mixes)).not.toMatch(/encoder|isKeepLossStated|mayMove/);
  });
});

describe('push and verify of a recipe', () => {
  it('tell which mixes fall short even when set: before anything is written, and at the end', async () => {
    const { recipe, push, verify } = await rehearsal('two-legs', show);
    const guard = recipe.mixes[0]?.guard;
    const short = `Even when set, Heron, Lark fall short: pilot ${decimal(guard?.worst.pilotAttenuationDb ?? Number.NaN)} down of the ${decimal(guard?.limits.pilotAttenuationAtLeastDb ?? Number.NaN)} asked.`;
    const { err } = await push();
    const parts = unwrapped(err).split(short);
    expect(parts).toHaveLength(3);
    expect(parts[0]).toContain('then ');
    expect(parts[1]).toMatch(/in-ears out.*Done: 2 mixes written and read back\./);
    const verified = await verify();
    expect(unwrapped(verified.err).split(short)).toHaveLength(2);
    expect(verified.exitCode).toBe(0);
    // Where nothing is to be written nobody is asked, and the end tells it.
    expect(unwrapped((await push()).err).split(short)).toHaveLength(2);
    for (const json of [await push(true), await verify(true)]) {
      expect(reportOf<LiveReport>(json).mixes.map((mix) => [mix.guard?.verdict, mix.missing])).toEqual([
        ['falls-short', []],
        ['falls-short', []],
      ]);
      expect(reportOf<LiveReport>(json).mixes[0]?.guard).toEqual({
        verdict: guard?.verdict,
        limits: guard?.limits,
        worst: guard?.worst,
      });
    }
  });

  it('add no line where all holds', async () => {
    const { push, verify } = await rehearsal('cut-section', show);
    expect(unwrapped((await push()).err)).not.toMatch(/short/);
    expect(unwrapped((await verify()).err)).not.toMatch(/short/);
    expect(reportOf<LiveReport>(await push(true)).mixes.map(({ guard }) => guard?.verdict)).toEqual([
      'met',
      'met',
    ]);
  });

  it('say nothing of a mix that does not stand as set', async () => {
    const { verify } = await rehearsal('two-legs', show);
    const { exitCode, err } = await verify();
    const lines = unwrapped(err).split(/(?=note: on the desk output)/);
    // This stand-in calls its outputs otherwise than the show, which is told beside.
    expect(lines.filter((line) => line.startsWith('note: '))).toHaveLength(3);
    expect(lines.at(-1)).toMatch(/right outputs\. Of 2 mixes 2 stand otherwise than the recipe set\.$/);
    expect(exitCode).toBe(1);
  });
});
