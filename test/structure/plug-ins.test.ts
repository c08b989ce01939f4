import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { add, build, change, copy, fileFor, register, relativeTo, root, run } from './trial-copy.js';

// A trial of what the guide promises: plug-ins are added to a copy by new files, and by changes to those files only that
// the guide's table names; then the copy is type-checked, built and run.

afterAll(() => rmSync(copy, { recursive: true }));

const addGrid = (): void => {
  const [file, shape] = ['src/quantisers/trial-grid.ts', fileFor('grid', /quantiser\.ts$/)];
  add(
    file,
    `import type { QuantiserKind } from '${relativeTo(file, shape)}';
/** Values three apart. */
export const trialGrid: QuantiserKind = {
  kind: 'trial-grid',
  summary: 'count values three apart: from, count',
  create: ({ from, count }) => ({
    ok: true,
    value: { count: Number(count), valueAt: (step) => Number(from) + 3 * step },
  }),
};
`,
  );
  register(fileFor('grid', /registry\.ts$/), /: readonly QuantiserKind\[\] = \[/, 'trialGrid', [
    'trialGrid',
    file,
  ]);
  change(fileFor('grid', /\.schema\.json$/), (text) => {
    const schema = JSON.parse(text);
    schema.allOf.push({
      if: { required: ['kind'], properties: { kind: { const: 'trial-grid' } } },
      // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
      then: { $ref: '#/$defs/trialGrid' },
    });
    schema.$defs.trialGrid = {
      description: 'count values three apart.',
      properties: { kind: {}, from: { type: 'number' }, count: { type: 'integer', minimum: 2 } },
      required: ['from', 'count'],
      additionalProperties: false,
    };
    return JSON.stringify(schema, null, 2);
  });
};

const addDesign = (): void => {
  const [file, shape] = ['src/filters/designs/trial-design.ts', fileFor('design', /design\.ts$/)];
  add(
    file,
    `import { q } from '../../units/quantity.js';
import { filterTypes } from '../../filters/filter.js';
import type { Design } from '${relativeTo(file, shape)}';
/** Filters that change nothing. */
export const trialDesign: Design = {
  name: 'trial-design',
  summary: 'filters that change nothing',
  covers: filterTypes,
  domain: 'z',
  qOfBandwidth: () => q(1),
  section: (_, rateHz) => ({ domain: 'z', rateHz, b0: 1, b1: 0, b2: 0, a0: 1, a1: 0, a2: 0 }),
};
`,
  );
  register(
    fileFor('design', /registry\.ts$/),
    /<Record<DesignName, Design>> = \{/,
    "'trial-design': trialDesign",
    ['trialDesign', file],
  );
  register(fileFor('design', /realisation\.ts$/), /designNames = \[/, "'trial-design'");
  register(fileFor('design', /bell-bounds\.ts$/), /<Record<DesignName, number>> = \{/, "'trial-design': 0");
  register(
    fileFor('design', /cut-bounds\.ts$/),
    /<Record<DesignName, boolean>> = \{/,
    "'trial-design': false",
  );
  change(fileFor('design', /\.schema\.json$/), (text) => {
    const schema = JSON.parse(text);
    schema.$defs.realisation.properties.design.enum.push('trial-design');
    return JSON.stringify(schema, null, 2);
  });
};

const addExporter = (): void => {
  const [file, shape] = ['src/exporters/trial-form.ts', fileFor('exporter', /exporter\.ts$/)];
  add(
    file,
    `import type { Exporter } from '${relativeTo(file, shape)}';
/** How many mixes there are. */
export const trialForm: Exporter = {
  name: 'trial-form',
  summary: 'how many mixes there are',
  fileName: 'recipe-trial.txt',
  mediaType: 'text/plain',
  content: ({ mixes }) => ({ ok: true, value: \`mixes: \${mixes.length}\\n\` }),
};
`,
  );
  register(fileFor('exporter', /names\.ts$/), /exporterNames = \[/, "'trial-form'");
  register(
    fileFor('exporter', /registry\.ts$/),
    /<Record<ExporterName, Exporter>> = \{/,
    "'trial-form': trialForm",
    ['trialForm', file],
  );
};

const addRule = (): void => {
  const registry = fileFor('rule', /rig/);
  const [file, shape] = [posix.join(posix.dirname(registry), 'trial-rule.ts'), fileFor('rule', /rule\.ts$/)];
  add(
    file,
    `import type { Rig } from '${relativeTo(file, 'src/model/rig.ts')}';
import type { Rule } from '${relativeTo(file, shape)}';
/** No rig is called Refused. */
export const trialRule: Rule<Rig> = {
  name: 'trial-rule',
  check: ({ title }) =>
    title === 'Refused' ? [{ code: 'trial-rule', path: 'title', message: 'Call it otherwise.' }] : [],
};
`,
  );
  register(registry, /: readonly Rule<Rig>\[\] = \[/, 'trialRule', ['trialRule', file]);
};

const addCommand = (): void => {
  const file = 'src/cli/trial/command.ts';
  add(
    file,
    `import { Command } from 'commander';
import { runCommand } from '../words/run-command.js';
/** \`trial\`: says that it runs. */
export const trialCommand = (): Command =>
  new Command('trial').summary('say that it runs').action(() =>
    runCommand(async (terminal) => {
      terminal.out('the trial runs\\n');
      return 0;
    }),
  );
`,
  );
  register(
    fileFor('command', /program\.ts$/),
    /const commands: readonly \{[\s\S]*?\}\[\] = \[/,
    "{ name: 'trial', summary: 'say that it runs', load: async () => (await import('./trial/command.js')).trialCommand() }",
  );
};

/** Written as the target the trial stands on, with the grid and the design of the trial in it. */
const target = (count: number): string => {
  const shipped = JSON.parse(readFileSync(join(root, 'targets/log-179.json'), 'utf8'));
  return JSON.stringify({
    ...shipped,
    id: 'trial-desk',
    quantisers: { ...shipped.quantisers, gain: { kind: 'trial-grid', from: -18, count } },
    realisations: [{ id: 'flat', design: 'trial-design', qMeaning: 'cookbook', sampleRateHz: 48000 }],
  });
};

const rig = (title: string): string =>
  JSON.stringify({
    format: 'bandwright-rig/1',
    title,
    systems: { packs: { link: 'fm-stereo', audioLowHz: 50, audioHighHz: 15000 } },
    mixes: [{ name: 'Sorrel', outputs: [1, 2], feeds: 'packs' }],
  });

beforeAll(() => {
  for (const addPlugIn of [addGrid, addDesign, addExporter, addRule, addCommand]) addPlugIn();
  build();
  writeFileSync(join(copy, 'desk.json'), target(9));
  writeFileSync(join(copy, 'wrong-desk.json'), target(1));
  writeFileSync(join(copy, 'rig.json'), rig('Accepted'));
  writeFileSync(join(copy, 'refused-rig.json'), rig('Refused'));
});

describe('as the guide says, one can add', () => {
  it('a kind of grid, which a target may use and its schema holds to its parameters', () => {
    expect(run('targets', 'lint', 'desk.json')).toMatchObject({ status: 0 });
    const wrong = run('targets', 'lint', 'wrong-desk.json');
    expect(wrong.status).toBe(3);
    expect(wrong.stderr).toContain('quantisers.gain.count');
  });

  it('a filter design, by which a desk may build: one that changes nothing takes nothing', () => {
    const { stdout } = run('recipe', 'rig.json', '--target', 'desk.json', '--fit', 'nearest', '--json');
    expect(JSON.parse(stdout).mixes[0].guard.byRealisation).toMatchObject([
      { id: 'flat', pilotAttenuationDb: 0, keepLossDb: 0, riseDb: 0 },
    ]);
  });

  it('an exporter, which writes its form', () => {
    const { stdout } = run(
      'recipe',
      'rig.json',
      '--target',
      'desk.json',
      '--fit',
      'nearest',
      '--format',
      'trial-form',
    );
    expect(stdout).toBe('mixes: 1\n');
  });

  it('a semantic rule, which refuses', () => {
    const refused = run('recipe', 'refused-rig.json', '--target', 'desk.json', '--fit', 'nearest');
    expect(refused.status).toBe(3);
    expect(refused.stderr).toContain('[trial-rule]');
  });

  it('a command, which runs and is told of', () => {
    expect(run('trial')).toMatchObject({ status: 0, stdout: 'the trial runs\n' });
    expect(run('--help').stdout).toContain('say that it runs');
  });

  it('nothing by changing a file that the guide does not name, nor where it names none', () => {
    expect(() => change('src/cli/main.ts', (text) => `${text}\n`)).toThrow('does not name src/cli/main.ts');
    expect(() => fileFor('exporter', /main\.ts$/)).toThrow('names no file');
    expect(() => fileFor('teapot', /./)).toThrow('names no file');
  });
});
