import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { writeJson } from '../../../src/documents/write-json.js';
import type { Knob } from '../../../src/model/knob.js';
import type { KnobPosition, Recipe, RecipeMix } from '../../../src/model/recipe.js';
import type { OscTransport } from '../../../src/model/target.js';
import { db, hz, q } from '../../../src/units/quantity.js';
import { recipeOn, rig } from '../../live/recipe-on.js';
import { runLoaded, scratchFolder } from '../run.js';
import { lies, type Rehearsal, type RehearsalOptions, rehearse, shownBy, told } from './rehearsal.js';

const quick = ['--rate', '5000'];
const push = [...quick, '--yes', '--accept-names', '--json'];

const started = async (options: RehearsalOptions): Promise<Rehearsal> => {
  const rehearsal = await rehearse(await scratchFolder(), options);
  onTestFinished(rehearsal.close);
  return rehearsal;
};

const addressesOf = ({ events }: Rehearsal, kind: 'read' | 'write'): readonly string[] =>
  events.flatMap((event) => (event.event === kind ? [event.address] : []));

/** Every target with another way to send values, or another shape. */
const targets = [
  'log-179',
  'digits-3',
  'floats',
  'octave-6',
  'r40',
  'two-legs',
  'cut-section',
  'lr-24',
  'rate-96',
  'hertz-1',
  'octave-24',
];

/** One for each way OSC travels, all of which is done by programs of their own. */
const inProcesses = ['log-179', 'r40', 'octave-6'];

describe('push, verify, restore', () => {
  it.each(targets)('%s: all of it is set and proved, and all of it comes back', async (target) => {
    const { osc } = (await started({ target })).desk.target;
    const rehearsal = await started({ target, kind: osc?.transports[0]?.kind ?? 'udp', seed: 5 });
    const before = rehearsal.snapshot();
    const command = inProcesses.includes(target) ? rehearsal.program : rehearsal.command;

    const pushed = await command('push', [rehearsal.recipe, ...push]);
    const report = told(pushed);
    expect(pushed.exitCode, pushed.stderr).toBe(0);
    expect(report.mixes.map(({ name, state }) => [name, state])).toEqual([
      ['Heron', 'applied'],
      ['Lark', 'applied'],
    ]);
    expect(lies(report, before, rehearsal.snapshot(), rehearsal.desk)).toEqual([]);
    // The desk shows what the recipe, as a file for people and programs, says it will.
    const recipe = JSON.parse(await readFile(rehearsal.recipe, 'utf8')) as Recipe;
    for (const { outputs, filters } of recipe.mixes) {
      for (const { slot, steps } of filters) {
        for (const [parameter, position] of Object.entries(steps) as [Knob, KnobPosition][]) {
          const shown = shownBy(
            rehearsal.snapshot(),
            { output: outputs[0] ?? 0, slot, parameter },
            rehearsal.desk,
          );
          // A knob of one step is no dial on the desk.
          if (shown !== null) expect(shown).toBe(position.display);
        }
      }
    }
    // Every address written to was read after it was last written to.
    const last = new Map(
      rehearsal.events.map((event, at) => ['address' in event ? `${event.event} ${event.address}` : '', at]),
    );
    for (const address of new Set(addressesOf(rehearsal, 'write'))) {
      expect(last.get(`read ${address}`)).toBeGreaterThan(last.get(`write ${address}`) ?? 0);
    }

    const verified = await command('verify', [rehearsal.recipe, ...quick, '--json']);
    expect(verified.exitCode, verified.stderr).toBe(0);
    expect(told(verified).mixes.map(({ state }) => state)).toEqual(['holds', 'holds']);

    const restored = await command('restore', [report.journal ?? '', ...quick, '--yes', '--json']);
    expect(restored.exitCode, restored.stderr).toBe(0);
    expect(rehearsal.snapshot()).toEqual(before);

    const differs = await command('verify', [rehearsal.recipe, ...quick, '--json']);
    expect(differs.exitCode).toBe(1);
  });

  it('restore --last takes the newest push that was not put back, says which, and then there is none', async () => {
    const rehearsal = await started({ target: 'log-179', seed: 6 });
    const before = rehearsal.snapshot();
    const pushed = told(await rehearsal.command('push', [rehearsal.recipe, ...push]));
    const restored = await rehearsal.command('restore', ['--last', ...quick, '--yes', '--json']);
    expect(restored.exitCode, restored.stderr).toBe(0);
    expect(restored.stderr.split('\n')).toContain(`  ${pushed.journal}`);
    expect(restored.stderr).toContain('"Tin Lighthouse, matinee"');
    expect(rehearsal.snapshot()).toEqual(before);
    const none = await rehearsal.command('restore', ['--last', ...quick, '--yes', '--json']);
    expect([none.exitCode, told(none).problems.map(({ code }) => code)]).toEqual([3, ['journal-missing']]);
    for (const args of [[], [pushed.journal ?? '', '--last']]) {
      const wrong = await rehearsal.command('restore', [...args, ...quick, '--yes']);
      expect([wrong.exitCode, wrong.stdout.toString()]).toEqual([2, '']);
      expect(wrong.stderr).toContain('--last');
    }
  });

  it('writes nothing where all of it stands already', async () => {
    const rehearsal = await started({ target: 'log-179' });
    await rehearsal.command('push', [rehearsal.recipe, ...push]);
    const written = addressesOf(rehearsal, 'write').length;
    const again = await rehearsal.command('push', [rehearsal.recipe, ...push]);
    expect(again.exitCode).toBe(0);
    expect(told(again).mixes.map(({ state }) => state)).toEqual(['unchanged', 'unchanged']);
    expect(addressesOf(rehearsal, 'write')).toHaveLength(written);
    expect(await rehearsal.kept()).toHaveLength(1);
  });

  it('--only touches that mix alone', async () => {
    const rehearsal = await started({ target: 'log-179' });
    const done = await rehearsal.command('push', [rehearsal.recipe, ...push, '--only', 'Lark']);
    expect(told(done).mixes.map(({ name }) => name)).toEqual(['Lark']);
    const addresses = [...addressesOf(rehearsal, 'write'), ...addressesOf(rehearsal, 'read')];
    expect(addresses.filter((address) => !address.startsWith('/mix/5/'))).toEqual([]);
  });

  it('a desk that cannot be read is written to only when told, and nothing is said to be applied', async () => {
    const rehearsal = await started({ target: 'controller-128' });
    const refused = await rehearsal.command('push', [rehearsal.recipe, ...push]);
    expect(refused.exitCode).toBe(2);
    expect(refused.stderr).toMatch(/--blind/);
    expect(rehearsal.events).toEqual([]);

    const blind = await rehearsal.command('push', [rehearsal.recipe, ...push, '--blind']);
    expect(blind.exitCode).toBe(1);
    expect(told(blind).mixes.map(({ state }) => state)).toEqual(['sent', 'sent']);
    expect(told(blind).journal).toBeNull();
    for (const { values } of told(blind).mixes) {
      for (const value of values)
        expect(shownBy(rehearsal.snapshot(), value, rehearsal.desk)).toBe(value.set);
    }
  });

  it('a desk that cannot be read and refuses is told of as lost', async () => {
    const rehearsal = await started({ target: 'controller-128', kind: 'udp' });
    await rehearsal.close();
    const blind = await rehearsal.command('push', [rehearsal.recipe, ...push, '--blind']);
    expect(told(blind)).toMatchObject({ result: 'desk-lost', problems: [{ code: 'desk-unreachable' }] });
    expect(blind.stderr.replace(/\s+/g, ' ')).toContain('the port refuses, so nothing listens there');
    expect(blind.exitCode).toBe(4);
  });

  it('--dry-run tells exactly what a push then sends, and sends none of it', async () => {
    const rehearsal = await started({ target: 'digits-3', seed: 3 });
    const dry = await rehearsal.command('push', [rehearsal.recipe, ...quick, '--dry-run']);
    expect(dry.exitCode).toBe(0);
    expect(addressesOf(rehearsal, 'write')).toEqual([]);
    await rehearsal.command('push', [rehearsal.recipe, ...push]);
    const lines = dry.stdout.toString('utf8').trim().split('\n');
    expect(lines.map((line) => line.split(' ')[0])).toEqual(addressesOf(rehearsal, 'write'));
  });

  it('a second push to the same desk at once is refused, and told so', async () => {
    const rehearsal = await started({ target: 'log-179', faults: ['delay=5..10'] });
    // Wherever their journals are kept.
    const elsewhere = ['--journal-folder', join(rehearsal.journals, '..', 'elsewhere')];
    const both = await Promise.all([
      rehearsal.program('push', [rehearsal.recipe, ...push]),
      rehearsal.program('push', [rehearsal.recipe, ...push, ...elsewhere]),
    ]);
    const codes = both.map(({ exitCode }) => exitCode).sort();
    expect(codes).toEqual([0, 4]);
    expect(both.find(({ exitCode }) => exitCode === 4)?.stderr).toMatch(/desk-busy/);
  });
});

describe('what a push never does', () => {
  it('goes on where outputs are called otherwise, until told', async () => {
    const rehearsal = await started({ target: 'log-179', outputs: { names: new Map([[5, 'Otter']]) } });
    const args = [rehearsal.recipe, ...quick, '--yes', '--json'];
    const stopped = await rehearsal.command('push', args);
    expect(stopped.exitCode).toBe(1);
    expect(told(stopped).problems.map(({ code }) => code)).toEqual(['name-differs', 'name-differs']);
    for (const { message } of told(stopped).problems) expect(message).toContain('--accept-names');
    expect(addressesOf(rehearsal, 'write')).toEqual([]);
    const named = await started({
      target: 'log-179',
      outputs: {
        names: new Map([
          [1, 'Heron'],
          [2, 'heron '],
          [5, 'LARK'],
        ]),
      },
    });
    expect((await named.command('push', [named.recipe, ...quick, '--yes', '--json'])).exitCode).toBe(0);
  });

  it('raises a level, until told', async () => {
    const rehearsal = await started({ target: 'digits-3' });
    const recipe = JSON.parse(await readFile(rehearsal.recipe, 'utf8')) as Recipe;
    // On this target gains go from -24 to 12 dB by 0.1 dB: step 300 of 361 is +6 dB.
    const raised = JSON.stringify({
      ...recipe,
      mixes: recipe.mixes.map((mix) => ({
        ...mix,
        filters: mix.filters.map((placed) =>
          placed.steps.gain
            ? {
                ...placed,
                set: { ...placed.set, gainDb: 6 },
                steps: {
                  ...placed.steps,
                  gain: { index: 300, of: 361, display: '+6.0 dB', fromBottom: 300, fromTop: 60 },
                },
              }
            : placed,
        ),
      })),
    });
    const file = join(rehearsal.journals, '..', 'raised.json');
    await writeFile(file, raised);
    const refused = await rehearsal.command('push', [file, ...push]);
    expect(refused.exitCode).toBe(3);
    expect(refused.stderr).toMatch(/--allow-rise/);
    expect(rehearsal.events).toEqual([]);
    expect((await rehearsal.command('push', [file, ...push, '--allow-rise'])).exitCode).toBe(0);
  });

  // A recipe is a file that anybody may edit.
  it.each<[string, string, (mix: RecipeMix) => RecipeMix]>([
    [
      'sends a value that is not on the grid',
      'recipe-off-grid',
      (mix) => ({
        ...mix,
        filters: mix.filters.map((placed) => ({
          ...placed,
          set: { ...placed.set, frequencyHz: hz(18999.5) },
        })),
      }),
    ],
    [
      'writes to a wired mix, whatever a recipe says of it',
      'leave-alone',
      (mix) => (mix.name === 'Drums' ? { ...mix, treatment: 'protect', guard: null } : mix),
    ],
  ])('%s', async (_, code, spoil) => {
    const rehearsal = await started({ target: 'digits-3' });
    const recipe = JSON.parse(await readFile(rehearsal.recipe, 'utf8')) as Recipe;
    const file = join(rehearsal.journals, '..', 'spoilt.json');
    await writeFile(file, JSON.stringify({ ...recipe, mixes: recipe.mixes.map(spoil) }));
    const refused = await rehearsal.command('push', [file, ...push]);
    expect(refused.exitCode).toBe(3);
    expect(refused.stderr).toContain(`[${code}]`);
    expect(rehearsal.events).toEqual([]);
  });

  it.each<OscTransport>(['udp', 'tcp-slip'])(
    'leaves it open what was written when the desk goes away half-way, by %s',
    async (kind) => {
      const rehearsal = await started({ target: 'digits-3', kind, seed: 4 });
      const before = rehearsal.snapshot();
      const writes = () => rehearsal.events.filter(({ event }) => event === 'write').length;
      const leave = setInterval(() => {
        if (writes() >= 9) void rehearsal.close();
      }, 1);
      const args = [rehearsal.recipe, ...push, '--rate', '300', '--timeout', '50', '--retries', '3'];
      const lost = await rehearsal.command('push', args);
      clearInterval(leave);
      const report = told(lost);
      expect(lost.exitCode, lost.stderr).toBe(4);
      expect(report.result).toBe('desk-lost');
      expect(report.mixes.map(({ state }) => state)).toEqual(['unknown', 'untouched']);
      expect(lies(report, before, rehearsal.snapshot(), rehearsal.desk)).toEqual([]);
      expect(lost.stderr).toContain(`bandwright restore ${report.journal}`);
    },
  );

  it('writes before what was there is safe on disk', async () => {
    const rehearsal = await started({ target: 'log-179' });
    const nowhere = join(rehearsal.recipe, 'no-folder');
    const stopped = await rehearsal.command('push', [rehearsal.recipe, ...push, '--journal-folder', nowhere]);
    expect(stopped.exitCode).toBe(4);
    expect(stopped.stderr).toContain('--journal-folder');
    expect(addressesOf(rehearsal, 'write')).toEqual([]);
  });

  it('writes to a slot of which anything cannot be read', async () => {
    const rehearsal = await started({ target: 'log-179', faults: ['wrong-type=100%'] });
    const stopped = await rehearsal.command('push', [rehearsal.recipe, ...push]);
    expect(stopped.exitCode).toBe(1);
    expect(told(stopped).mixes.map(({ state }) => state)).toEqual(['untouched', 'untouched']);
    expect(new Set(told(stopped).problems.map(({ code }) => code))).toEqual(new Set(['answer-unfit']));
    expect(addressesOf(rehearsal, 'write')).toEqual([]);
  });

  it.each(['255.255.255.255', '224.0.0.1', '0.0.0.0', '[::]', '[ff02::1]', '[::ffff:224.0.0.1]'])(
    'sends to %s, until told',
    async (address) => {
      const { recipe, port, events } = await started({ target: 'log-179' });
      const stopped = await runLoaded(['push', recipe, ...push, '--to', `${address}:${port}`]);
      expect(stopped.exitCode).toBe(2);
      expect(stopped.stderr).toMatch(/--allow-broadcast/);
      expect(events).toEqual([]);
    },
  );

  it('sends to 0.0.0.0 once told, which is this computer itself', async () => {
    const rehearsal = await started({ target: 'log-179' });
    const to = ['--to', `0.0.0.0:${rehearsal.port}`, '--allow-broadcast'];
    const env = { BANDWRIGHT_JOURNALS: rehearsal.journals };
    const pushed = await runLoaded(['push', rehearsal.recipe, ...push, ...to], { env });
    expect(pushed.exitCode, pushed.stderr).toBe(0);
    expect(addressesOf(rehearsal, 'write').length).toBeGreaterThan(0);
  });

  it('lifts a frequency by filters that only cut, until told', async () => {
    const rehearsal = await started({ target: 'digits-3' });
    // A steep shelf overshoots beside its step, the more the higher its Q (W3C Audio EQ Cookbook).
    const shelf = { role: 'dip', type: 'lowshelf', frequencyHz: hz(200), q: q(4), gainDb: db(-12) } as const;
    const file = join(rehearsal.journals, '..', 'steep.json');
    await writeFile(file, writeJson(recipeOn(rehearsal.desk, { ...rig, intents: [shelf] })));
    const refused = await rehearsal.command('push', [file, ...push]);
    expect(refused.exitCode).toBe(3);
    expect(refused.stderr).toMatch(/lift some frequency by \d+\.\d dB/);
    expect(rehearsal.events).toEqual([]);
    expect((await rehearsal.command('push', [file, ...push, '--allow-rise'])).exitCode).toBe(0);
  });

  it('writes when nobody agreed', async () => {
    const rehearsal = await started({ target: 'log-179' });
    const stopped = await rehearsal.command('push', [rehearsal.recipe, ...quick, '--accept-names']);
    expect(stopped.exitCode).toBe(2);
    expect(stopped.stderr).toMatch(/--yes/);
    expect(addressesOf(rehearsal, 'write')).toEqual([]);
    expect(await rehearsal.kept()).toEqual([]);
  });
});
