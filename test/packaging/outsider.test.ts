import { copyFile, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { build } from 'esbuild';
import { describe, expect, it, onTestFinished } from 'vitest';
import { makeDesk } from '../../src/index.js';
import { loadTarget } from '../../src/node/index.js';
import { startStandin } from '../../src/node/standin/index.js';
import { chromiumPath } from '../browser/installed.js';
import { launchChromium } from '../browser/look.js';
import { fixture, projectRoot, run, runProgram } from '../end-to-end/run.js';
import { makeProject, pack, succeeded } from './packed.js';

/** Where the scripts are shown, a script a door. */
const shown = await readFile(join(projectRoot, 'src/README.md'), 'utf8');
const scripts = new Map(
  [...shown.matchAll(/<!-- script: (?<door>.+) -->\n```ts\n(?<script>[\s\S]*?)```/g)].map(({ groups }) => [
    groups?.door ?? '',
    groups?.script ?? '',
  ]),
);

const packed = await pack();
const project = await makeProject(packed, 'outsider');
await copyFile(fixture('rig-small.json'), join(project, 'show.json'));
await copyFile(join(packed.root, 'targets/log-179.json'), join(project, 'desk.json'));
await writeFile(join(project, 'package.json'), '{ "type": "module" }\n');

/** Compiles a project as a stranger to the package would, with Node.js's types for `node:fs`. */
const compile = async (files: readonly string[]): Promise<string> => {
  const compilerOptions = {
    strict: true,
    skipLibCheck: false,
    module: 'nodenext',
    target: 'es2022',
    outDir: 'out',
    rootDir: '.',
    typeRoots: [join(projectRoot, 'node_modules/@types')],
    types: ['node'],
  };
  await writeFile(join(project, 'tsconfig.json'), JSON.stringify({ compilerOptions, files }));
  const compiler = join(projectRoot, 'node_modules', '.bin', 'tsc');
  const { stdout, stderr } = await runProgram(compiler, ['--project', '.'], { cwd: project });
  return `${stdout}${stderr}`;
};

const runScript = async (name: string, ...args: readonly string[]): Promise<string> =>
  succeeded(await runProgram(process.execPath, [join('out', name), ...args], { cwd: project }));

describe('a project of somebody else', () => {
  it('has a script for each door', () => {
    expect([...scripts.keys()]).toEqual(['bandwright', 'bandwright/node', 'bandwright/standin']);
    for (const [door, script] of scripts) {
      const lines = script.trim().split('\n').length;
      expect(lines, door).toBeGreaterThanOrEqual(10);
      expect(lines, door).toBeLessThanOrEqual(20);
    }
  });

  it('compiles strictly, and what is wrong does not compile', async () => {
    const names = [...scripts.keys()].map((door) => `${door.replace('/', '-')}.ts`);
    await Promise.all(
      [...scripts.values()].map((script, index) => writeFile(join(project, names[index] ?? ''), script)),
    );
    await writeFile(
      join(project, 'wrong.ts'),
      `import { hz, type Rig } from 'bandwright';
export const wrongKey = (rig: Rig) => rig.desks;
export const wrongUnit: typeof import('bandwright').preEmphasisDb = () => hz(1);
`,
    );
    // What the compiler says begins at the margin: of the scripts nothing.
    const said = await compile([...names, 'wrong.ts']);
    expect(said.split('\n').filter((line) => /^\S/.test(line))).toEqual([
      expect.stringMatching(/^wrong\.ts\(2,43\): error TS2339: .*'desks'/),
      expect.stringMatching(/^wrong\.ts\(3,75\): error TS2322: .*'Hz' .* 'Db'/),
    ]);
  });

  it('fits a rig and draws curves, from the main door', async () => {
    const lines = (await runScript('bandwright.js')).trim().split('\n');
    const args = ['recipe', 'show.json', '--target', './desk.json', '--fit', 'nearest', '--json'];
    const recipe = JSON.parse((await run(args, { cwd: project })).stdout.toString());
    expect(lines.map((line) => line.replace(/( -?[\d.]+)+$/, ''))).toEqual(
      recipe.mixes.map(({ name }: { readonly name: string }) => name),
    );
    // Thirds of an octave from 20 Hz to 20 kHz are 30 steps (IEC 61260-1), so 31 points and the end itself.
    const curves = lines.map((line) => (/( -?[\d.]+)+$/.exec(line)?.[0] ?? '').trim().split(' ').map(Number));
    for (const curve of curves) expect(curve.length).toBeGreaterThanOrEqual(31);
    // A protected mix has lost at least 6 dB at either end of that (rig-small.json asks for cuts at both).
    expect(curves.filter((curve) => (curve[0] ?? 0) < -6 && (curve.at(-1) ?? 0) < -6).length).toBeGreaterThan(
      0,
    );
  });

  it('pushes to a stand-in, verifies and restores, from the door for Node.js', async () => {
    const args = ['recipe', 'show.json', '--target', 'log-179', '--fit', 'nearest', '--format', 'json'];
    await run([...args, '--output', 'recipe.json'], { cwd: project });
    const target = await loadTarget('log-179');
    const desk = target.ok ? makeDesk(target.value) : target;
    if (!desk.ok) throw new Error('log-179 makes no desk');
    const names = new Map(
      ['Thistle, voice', 'Thistle, voice', 'Plover, fiddle', 'Plover, fiddle'].map((name, index) => [
        index + 1,
        name,
      ]),
    );
    const place = { kind: 'udp', port: 0, bind: '127.0.0.1' } as const;
    const running = await startStandin({ desk: desk.value, ...place, outputs: { names } });
    if (!running.ok) throw new Error('no stand-in');
    onTestFinished(() => running.value.close());
    const before = JSON.stringify(running.value.snapshot());
    const printed = await runScript('bandwright-node.js', `127.0.0.1:${running.value.port}`);
    expect(printed).toBe('push done\nverify done\nrestore done\n');
    expect(running.value.counts().write).toBeGreaterThan(0);
    expect(JSON.stringify(running.value.snapshot())).toBe(before);
    const [journal] = await readdir(join(project, 'journals'));
    expect(journal).toMatch(/push-log-179\.json$/);
  });

  it('starts a stand-in, from its own door', async () => {
    expect(await runScript('bandwright-standin.js')).toMatch(
      /^listens at port \d+, as a desk with [1-9]\d* sets of filters\n$/,
    );
  });

  it.skipIf(!chromiumPath)(
    'fits a rig and draws curves in a browser, as in Node.js',
    { timeout: 50_000 },
    async () => {
      const script = (scripts.get('bandwright') ?? '').replace(
        "import { readFile } from 'node:fs/promises';",
        '',
      );
      const files = { 'show.json': '', 'desk.json': '' };
      for (const name of Object.keys(files) as (keyof typeof files)[]) {
        files[name] = await readFile(join(project, name), 'utf8');
      }
      const given = `const files = ${JSON.stringify(files)}; const readFile = async (name) => files[name];\n`;
      const bundled = await build({
        stdin: { contents: given + script, resolveDir: project },
        bundle: true,
        platform: 'browser',
        format: 'esm',
        target: 'es2022',
        write: false,
      });
      const page = await (await launchChromium()).newPage();
      try {
        const [printed, wrong]: [string[], string[]] = [[], []];
        page.on('console', (message) => printed.push(message.text()));
        page.on('pageerror', (error) => wrong.push(String(error)));
        await page.setContent(
          `<script type="module">${bundled.outputFiles[0]?.text.replaceAll('</script', '<\\/script')}</script>`,
        );
        await page.waitForFunction('document.readyState === "complete"');
        expect(wrong).toEqual([]);
        expect(`${printed.join('\n')}\n`).toBe(await runScript('bandwright.js'));
      } finally {
        await page.context().browser()?.close();
      }
    },
  );
});
