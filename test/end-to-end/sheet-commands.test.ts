import { createHash } from 'node:crypto';
import { copyFile, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DOMParser } from '@xmldom/xmldom';
import { describe, expect, it } from 'vitest';
import { binary, fixture, projectRoot, runLoaded, runProgram, scratchFolder } from './run.js';

const textOf = (element: string): string =>
  new DOMParser().parseFromString(element, 'text/xml').documentElement?.textContent ?? '';

/** The command lines that a sheet shows, as text. */
const commandsOf = (html: string): readonly string[] =>
  (html.match(/<pre>[\s\S]*?<\/pre>/g) ?? []).map(textOf);

const digestsOf = (html: string): ReadonlyMap<string, string> =>
  new Map(
    [...html.matchAll(/<dt>(<bdi>[^<]*<\/bdi>)<\/dt><dd><code>([0-9a-f]{64})<\/code><\/dd>/g)].map(
      ([, name = '', sha256 = '']) => [textOf(name), sha256],
    ),
  );

const sha256 = async (path: string): Promise<string> =>
  createHash('sha256')
    .update(await readFile(path))
    .digest('hex');

/** Types a line into a shell, in which bandwright is the built program. */
const typed = (line: string, cwd: string) =>
  runProgram('sh', ['-c', `bandwright() { '${process.execPath}' '${binary}' "$@"; }; ${line}`], { cwd });

const folder = async (): Promise<string> => {
  const cwd = await scratchFolder();
  await mkdir(join(cwd, 'evening show'));
  await copyFile(fixture('rig-small.json'), join(cwd, "evening show/o'clock.json"));
  await copyFile(fixture('intents.json'), join(cwd, 'hum.json'));
  await copyFile(join(projectRoot, 'targets/cut-section.json'), join(cwd, 'our-desk.json'));
  return cwd;
};

const cases: readonly { readonly args: readonly string[]; readonly rig: string; readonly target: string }[] =
  [
    {
      args: ["evening show/o'clock.json", '--target', 'log-179'],
      rig: "evening show/o'clock.json",
      target: 'target log-179',
    },
    {
      args: [
        "evening show/o'clock.json",
        '-t',
        './our-desk.json',
        '--keep-loss=2dB',
        '--window',
        '150 Hz',
        '--spare-slots',
        '1',
      ],
      rig: "evening show/o'clock.json",
      target: './our-desk.json',
    },
    {
      args: ['hum.json', '--target', './our-desk.json', '--outputs', '3/4', '--fit', 'nearest'],
      rig: 'hum.json',
      target: './our-desk.json',
    },
  ];

describe('the commands on a sheet', () => {
  it.each(cases)('make the same recipe and push it: $args', async ({ args, rig, target }) => {
    const cwd = await folder();
    await runLoaded(['recipe', ...args, '--format', 'sheet', '--output', 'show.html', '--venue', 'Here'], {
      cwd,
    });
    const html = await readFile(join(cwd, 'show.html'), 'utf8');
    const [make = '', look = '', ...others] = commandsOf(html);
    // 0: done; 1: done, and falls short.
    expect([0, 1]).toContain((await typed(make, cwd)).exitCode);
    const digests = digestsOf(html);
    expect(digests.get('the recipe as JSON')).toBe(await sha256(join(cwd, 'recipe.json')));
    expect(digests.get(rig)).toBe(await sha256(join(cwd, rig)));
    expect(digests.get(target)).toMatch(/^[0-9a-f]{64}$/);
    const dry = await typed(look, cwd);
    expect(dry.stderr).not.toMatch(/\[[a-z-]+\]/);
    expect(dry.stdout.toString()).toContain('/mix/');
    expect(others.map((line) => line.split(' ')[1])).toEqual(['push', 'verify', 'watch', 'restore']);
    // Nobody's address (RFC 5737): something to put in.
    for (const line of others) expect(line).toContain('--to 192.0.2.7');
  });

  it.each(['a\\x$(touch pwned).json', '-rig.json', '~`touch pwned`"!\\.json'])(
    'carry out nothing that a file is called: %s',
    async (name) => {
      const cwd = await scratchFolder();
      await copyFile(fixture('rig-small.json'), join(cwd, name));
      const { stdout } = await runLoaded(
        ['recipe', '--target', 'log-179', '--fit', 'nearest', '--format', 'sheet', '--', name],
        { cwd },
      );
      const html = stdout.toString();
      const made = await typed(commandsOf(html)[0] ?? '', cwd);
      expect(made.stderr).toMatch(/Wrote recipe\.json/);
      expect(digestsOf(html).get('the recipe as JSON')).toBe(await sha256(join(cwd, 'recipe.json')));
      expect((await readdir(cwd)).sort()).toEqual([name, 'recipe.json'].sort());
    },
  );

  it('tell a restore of kinds of grid of one’s own, and leave the writing out where it is done', async () => {
    const cwd = await folder();
    await writeFile(
      join(cwd, 'own.mjs'),
      "export default { kind: 'own', summary: 'nothing', create: () => ({ ok: false, error: 'never' }) };",
    );
    const args = ['recipe', 'hum.json', '-t', 'log-179', '--outputs', '1/2', '--quantiser', './own.mjs'];
    await runLoaded([...args, '--format', 'sheet,json', '--output', 'both/'], { cwd });
    const html = await readFile(join(cwd, 'both/recipe.html'), 'utf8');
    expect(commandsOf(html)[0]).toBe('bandwright push recipe.json --quantiser ./own.mjs --dry-run');
    expect(commandsOf(html).at(-1)).toBe('bandwright restore --last --quantiser ./own.mjs --to 192.0.2.7');
    expect(html).toContain('recipe.json, written beside this sheet');
    expect(digestsOf(html).get('./own.mjs')).toBe(await sha256(join(cwd, 'own.mjs')));
    expect(digestsOf(html).get('the recipe as JSON')).toBe(await sha256(join(cwd, 'both/recipe.json')));
  });

  it('tell what may help a guard that falls short, and nothing where none does', async () => {
    const cwd = await scratchFolder();
    const rig = JSON.parse(await readFile(fixture('rig-small.json'), 'utf8'));
    // No slot is named that this desk does not have.
    const mixes = rig.mixes.map(({ freeSlots: _, ...mix }: { freeSlots?: unknown }) => mix);
    await writeFile(join(cwd, 'show.json'), JSON.stringify({ ...rig, mixes }));
    const sheet = async (...args: readonly string[]): Promise<string> =>
      (await runLoaded(['recipe', 'show.json', ...args, '--format', 'sheet'], { cwd })).stdout.toString();
    const short = await sheet('--target', 'log-179', '--attenuation', '60');
    expect(short).toContain('<a href="#advice">What may help</a>');
    expect(commandsOf(short)[0]).toBe('bandwright tradeoff --target log-179 --attenuation 60');
    expect(await sheet('--target', 'log-179', '--attenuation', '1')).not.toContain('What may help');
  });

  it('are not told of what came through a pipe, which is not there a second time', async () => {
    const rig = await readFile(fixture('rig-small.json'));
    const { stdout } = await runLoaded(['recipe', '-', '--target', 'log-179', '--format', 'sheet'], {
      stdin: rig,
    });
    const html = stdout.toString();
    expect(commandsOf(html).filter((line) => line.startsWith('bandwright recipe'))).toEqual([]);
    expect([...digestsOf(html).keys()]).toEqual(['target log-179', 'the recipe as JSON']);
  });

  it('say what a desk that cannot be read takes, and that one without a network is dialled', async () => {
    const cwd = await scratchFolder();
    const target = JSON.parse(await readFile(join(projectRoot, 'targets/log-179.json'), 'utf8'));
    const { osc, ...desk } = target;
    await writeFile(
      join(cwd, 'mute.json'),
      JSON.stringify({ ...desk, id: 'mute', osc: { ...osc, read: 'none' } }),
    );
    await writeFile(join(cwd, 'knobs.json'), JSON.stringify({ ...desk, id: 'knobs' }));
    const sheet = async (name: string): Promise<string> => {
      const args = ['recipe', fixture('rig-small.json'), '--target', `./${name}.json`, '--format', 'sheet'];
      return (await runLoaded(args, { cwd })).stdout.toString();
    };
    const mute = await sheet('mute');
    expect(mute).toContain('nothing proves what was set');
    expect(commandsOf(mute).at(-1)).toBe(
      'bandwright push recipe.json --target ./mute.json --blind --to 192.0.2.7',
    );
    const knobs = await sheet('knobs');
    expect(commandsOf(knobs)).toEqual([]);
    expect(knobs).toContain('dial it by hand');
  });
});
