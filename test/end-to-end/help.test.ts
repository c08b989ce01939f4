import { spawn } from 'node:child_process';
import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { exitCodes } from '../../src/cli/words/exit-code.js';
import { writeJson } from '../../src/documents/write-json.js';
import { defaultFitFor } from '../../src/fitting/registry.js';
import type { Rig } from '../../src/model/rig.js';
import { startStandin } from '../../src/node/standin/start-standin.js';
import { recipeOn, shippedDesk } from '../live/recipe-on.js';
import { targetJson } from './bad-input/samples.js';
import { binary, environment, fixture, type Run, run, runLoaded, scratchFolder } from './run.js';

interface Help {
  readonly command: string;
  readonly run: Run;
}

/** The commands a help text lists, `help` itself aside. */
const commandsIn = (text: string): readonly string[] => {
  const [, list = ''] = /\nCommands:\n((?: {2}.*\n)+)/.exec(text) ?? [];
  return [...list.matchAll(/^ {2}([a-z]+)/gm)].flatMap(([, name = '']) => (name === 'help' ? [] : [name]));
};

/** The help of a command and of every command below it. */
const helpOf = async (command: readonly string[]): Promise<readonly Help[]> => {
  const help = await runLoaded([...command, '--help']);
  const below = commandsIn(help.stdout.toString()).map((name) => helpOf([...command, name]));
  return [{ command: ['bandwright', ...command].join(' '), run: help }, ...(await Promise.all(below)).flat()];
};

const helps = await helpOf([]);

/** Example lines; what is said about one stands two spaces after it. */
const examplesIn = (text: string): readonly string[] =>
  [...text.matchAll(/^ {2}bandwright (.*?)(?: {2,}.*)?$/gm)].map(([, line = '']) => line.trim());

/** What the examples find on the network: the port of a desk; and a recipe and a journal for it in a folder. */
const standIn = async (folder: string): Promise<number> => {
  const desk = await shippedDesk('log-179');
  const rig = JSON.parse(await readFile(fixture('rig-small.json'), 'utf8')) as Rig;
  const outputs = {
    names: new Map(rig.mixes.flatMap(({ name, outputs }) => outputs.map((output) => [output, name]))),
  };
  // Any port: that of the target may be taken on this machine.
  const standin = await startStandin({ desk, kind: 'udp', port: 0, bind: '127.0.0.1', outputs });
  if (!standin.ok) throw new Error(JSON.stringify(standin.error));
  onTestFinished(standin.value.close);
  await writeFile(join(folder, 'recipe.json'), writeJson(recipeOn(desk, rig)));
  const journals = join(folder, 'journals');
  const { port } = standin.value;
  const args = ['push', 'recipe.json', '--to', `127.0.0.1:${port}`, '--yes', '--rate', '5000', '--json'];
  const pushed = await runLoaded(args, { cwd: folder, env: { BANDWRIGHT_JOURNALS: journals } });
  await copyFile(JSON.parse(pushed.stdout.toString()).journal, join(folder, 'journal.json'));
  return port;
};

describe('--help', () => {
  it('is there for every command', () => {
    const commands = helps.map(({ command }) => command.replace(/^bandwright ?/, ''));
    expect(commands).toEqual(
      expect.arrayContaining([
        '',
        'recipe',
        'compare',
        'check',
        'tradeoff',
        'hear',
        'push',
        'verify',
        'watch',
        'inspect',
        'restore',
        'journals',
        'standin',
        'targets',
        'targets list',
        'targets show',
        'targets lint',
        'targets convert',
        'targets new',
        'rig',
        'rig new',
        'demo',
      ]),
    );
  });

  it.each(helps)(
    'of $command goes to standard output, tells its use and shows an example',
    ({ command, run }) => {
      expect([run.exitCode, run.stderr]).toEqual([0, '']);
      const text = run.stdout.toString();
      expect(text).toMatch(new RegExp(`^Usage: ${command}( |$)`, 'm'));
      expect(text).toMatch(/^Examples?:$/m);
      expect(examplesIn(text).length).toBeGreaterThan(0);
      const lines = text.split('\n').filter((line) => !line.startsWith('  bandwright '));
      expect(Math.max(...lines.map(({ length }) => length))).toBeLessThanOrEqual(80);
    },
  );

  it.each(helps)('of $command tells its options in groups, common ones first', ({ run }) => {
    const headings = [...run.stdout.toString().matchAll(/^(Options|Guard|Network|Files):$/gm)];
    const found = headings.map(([, heading]) => heading ?? '');
    const order = ['Options', 'Guard', 'Network', 'Files'];
    expect(found).toEqual(order.filter((heading) => found.includes(heading)));
    expect(found[0]).toBe('Options');
  });

  it.each([
    ['recipe', ['Options', 'Guard', 'Files']],
    ['hear', ['Options', 'Guard', 'Files']],
    ['push', ['Options', 'Network', 'Files']],
    ['standin', ['Options', 'Network', 'Files']],
    ['journals', ['Options', 'Files']],
    ['targets list', ['Options']],
  ])('of %s has the groups of what it uses', (command, headings) => {
    const text = helps.find((each) => each.command === `bandwright ${command}`)?.run.stdout.toString() ?? '';
    expect([...text.matchAll(/^([A-Z][a-z]+):$(?=\n {2}-)/gm)].map(([, heading]) => heading)).toEqual(
      headings,
    );
  });

  it.each([
    ['recipe', 'Files', '--output'],
    ['recipe', 'Options', '--target'],
    ['recipe', 'Guard', '--keep-loss <dB>'],
    ['hear', 'Files', '--force'],
    ['compare', 'Guard', '--spare-slots'],
    ['push', 'Network', '--timeout'],
    ['push', 'Options', '--to'],
    ['watch', 'Options', '--every'],
    ['watch', 'Network', '--rate'],
    ['standin', 'Network', '--port'],
    ['restore', 'Files', '--journal-folder'],
  ])('of %s tells under %s of %s', (command, heading, option) => {
    const text = helps.find((each) => each.command === `bandwright ${command}`)?.run.stdout.toString() ?? '';
    const [, group = ''] = new RegExp(`^${heading}:\\n((?: {2}.*\\n)+)`, 'm').exec(text) ?? [];
    expect(group).toContain(` ${option}`);
  });

  it('of recipe names the fits that are chosen where nobody chooses', () => {
    const text = helps.find(({ command }) => command === 'bandwright recipe')?.run.stdout.toString() ?? '';
    const [rig, intents] = (['rig', 'intents'] as const).map((document) => defaultFitFor(document).name);
    expect(text.replace(/\s+/g, ' ')).toContain(
      `(default: ${rig} for a rig, ${intents} for an intents file)`,
    );
  });

  it('of bandwright itself tells what each exit code means', () => {
    const text = helps[0]?.run.stdout.toString() ?? '';
    expect(text).toMatch(/^ {2}4 +the desk, a file or an output could not be reached or written$/m);
    const codes = [...text.matchAll(/^ {2}(\d+) {2,}\S/gm)].map(([, code]) => Number(code));
    expect(codes).toEqual(Object.values(exitCodes));
  });

  /** The first example of each command is tried in a process of its own. */
  const isFirst = (line: string): boolean =>
    examples.find((each) => each.split(' ')[0] === line.split(' ')[0]) === line;

  const examples = [...new Set(helps.flatMap(({ run }) => examplesIn(run.stdout.toString())))];

  it('shows a good many examples', () => {
    expect(examples.length).toBeGreaterThanOrEqual(8);
  });

  /** Lines that take long, and which other files here run word for word and look at more closely. */
  const triedElsewhere = [
    'check',
    'compare show.json',
    'demo',
    'hear --target cut-section --output hear.wav',
    // It asks on a terminal.
    'learn frequency',
    'tradeoff --target top-18 --spare-slots 1 --csv',
  ];

  it.each(examples.filter((line) => !line.startsWith('standin ') && !triedElsewhere.includes(line)))(
    'the example works as pasted: bandwright %s',
    async (line) => {
      const cwd = await scratchFolder();
      await copyFile(fixture('rig-small.json'), join(cwd, 'show.json'));
      await writeFile(join(cwd, 'our-desk.json'), targetJson);
      // The desk that examples push to is the stand-in that another example starts.
      const isLive = /^(push|verify|watch|restore|inspect|learn --target)/.test(line);
      const port = isLive ? await standIn(cwd) : 0;
      const words = [...line.replace('127.0.0.1', `127.0.0.1:${port}`).matchAll(/"([^"]*)"|(\S+)/g)].map(
        ([, quoted, plain]) => quoted ?? plain ?? '',
      );
      const asked = /^(push|restore|learn --target)/.test(line) ? ['--yes'] : [];
      const env = { BANDWRIGHT_JOURNALS: join(cwd, 'journals') };
      const runs = isFirst(line) ? run : runLoaded;
      const { exitCode, stdout, stderr } = await runs([...words, ...asked], { cwd, env });
      expect(stdout.length + stderr.length).toBeGreaterThan(0);
      expect(stderr).not.toMatch(/^(error|bandwright): /m);
      // A recipe that falls short of its guard works too, and says so by 1; so does a desk that stands otherwise, and
      // a grid that is not settled yet.
      expect(/^(recipe|compare|demo|verify|watch|inspect|learn \w)/.test(line) ? [0, 1] : [0]).toContain(
        exitCode,
      );
    },
  );

  it.each(examples.filter((line) => line.startsWith('standin ')))(
    'the example stands in until Ctrl-C: bandwright %s',
    async (line) => {
      const cwd = await scratchFolder();
      await copyFile(fixture('rig-small.json'), join(cwd, 'show.json'));
      const args = [binary, ...line.split(' '), '--port', '0'];
      const desk = spawn(process.execPath, args, {
        cwd,
        env: environment(),
        stdio: ['ignore', 'ignore', 'pipe'],
      });
      desk.stderr.on('data', (chunk: Buffer) => {
        if (chunk.toString().includes('until Ctrl-C')) desk.kill('SIGINT');
      });
      expect(await new Promise((resolve) => desk.on('close', resolve))).toBe(0);
    },
  );
});
