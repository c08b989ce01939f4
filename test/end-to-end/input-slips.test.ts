import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { writeJson } from '../../src/documents/write-json.js';
import type { Recipe } from '../../src/model/recipe.js';
import { startStandin } from '../../src/node/standin/start-standin.js';
import { shippedDesk } from '../live/recipe-on.js';
import { rigJson, rigXml } from './bad-input/samples.js';
import { runLoaded, scratchFolder } from './run.js';

const unwrapped = (text: string): string => text.replace(/\s*\n\s*/g, ' ');

const inFolder = async (files: Readonly<Record<string, string>>) => {
  const cwd = await scratchFolder();
  for (const [name, content] of Object.entries(files)) await writeFile(join(cwd, name), content);
  const env = { BANDWRIGHT_JOURNALS: join(cwd, 'journals') };
  return Object.assign((...args: readonly string[]) => runLoaded(args, { cwd, env }), {
    write: (name: string, content: string) => writeFile(join(cwd, name), content),
  });
};

// The attenuation asked for is 10 log10(1 + (2π·19000·τ)²), by hand. cut-section can take 21.7 dB out at the pilot for
// 1 dB of music, as the README's example shows: enough for all of them but the last.
describe('a pre-emphasis', () => {
  it.each([
    { microseconds: 0, asked: '0.0', told: 'so nothing is asked for there either', exit: 0 },
    { microseconds: 25, asked: '10.0', told: null, exit: 0 },
    { microseconds: 75, asked: '19.1', told: null, exit: 0 },
    { microseconds: 60, asked: '17.2', told: 'given as 60 microseconds, which is unusual', exit: 0 },
    { microseconds: 500, asked: '35.5', told: 'Did you mean 50?', exit: 1 },
  ])('of $microseconds µs is worked with, and asked about where it is unusual', async (row) => {
    const { microseconds, asked, told, exit } = row;
    const show = rigJson.replace(
      '"pilotHz": 19000',
      `"pilotHz": 19000, "preEmphasisMicroseconds": ${microseconds}`,
    );
    const xml = rigXml.replace(
      'pilotHz="19000"',
      `pilotHz="19000" preEmphasisMicroseconds="${microseconds}"`,
    );
    const command = await inFolder({ 'show.json': show, 'show.xml': xml });
    const [json, fromXml] = [
      await command('recipe', 'show.json', '--target', 'cut-section', '--full'),
      await command('recipe', 'show.xml', '--target', 'cut-section', '--full'),
    ];
    const text = unwrapped(json.stdout.toString());
    expect(json.exitCode).toBe(exit);
    expect(text).toContain(`at least ${asked} dB asked`);
    expect(text.includes('The pre-emphasis of system')).toBe(told !== null);
    expect(text).toContain(told ?? 'ASSUMPTIONS');
    expect([fromXml.exitCode, fromXml.stdout.toString()]).toEqual([exit, json.stdout.toString()]);
  });
});

describe('pairs that a target lists', () => {
  it('are pushed to, verified and inspected as one, and refused on a desk that has others', async () => {
    const desk = await shippedDesk('log-179', (target) => ({
      ...target,
      outputs: { ...target.outputs, pairs: ['1/16', '2/3'] },
    }));
    const started = await startStandin({ desk, kind: 'udp', port: 0, bind: '127.0.0.1', scatter: true });
    if (!started.ok) throw new Error(JSON.stringify(started.error));
    const { port, snapshot, close } = started.value;
    onTestFinished(close);
    const command = await inFolder({
      'show.json': rigJson.replace('[1, 2]', '[1, 16]').replace('[3]', '[5]'),
      'desk.json': writeJson(desk.target),
    });
    const at = ['--target', './desk.json', '--to', `127.0.0.1:${port}`];
    const made = await command('recipe', 'show.json', '-t', './desk.json', '--json');
    await command.write('r.json', made.stdout.toString());
    const pushed = await command('push', 'r.json', ...at, '--yes', '--accept-names', '--rate', '5000');
    expect([pushed.exitCode, pushed.stdout.toString()]).toEqual([
      0,
      expect.stringContaining('SET         1/16    Wren'),
    ]);
    const shared = snapshot().filters.find(({ outputs }) => outputs.includes(16));
    expect(shared?.outputs).toEqual([1, 16]);
    const { mixes } = JSON.parse(made.stdout.toString()) as Recipe;
    const filters = mixes[0]?.filters ?? [];
    expect(filters.length).toBeGreaterThan(1);
    for (const { slot, steps } of filters) {
      const stands = shared?.slots.find(({ id }) => id === slot);
      expect(stands?.knobs.frequency?.index).toBe(steps.frequency?.index);
    }
    expect((await command('verify', 'r.json', ...at)).exitCode).toBe(0);
    const inspected = await command('inspect', 'show.json', ...at);
    expect(inspected.stdout.toString()).toMatch(/ 1\/16 +Wren/);

    const elsewhere = ['--target', 'log-179', '--to', `127.0.0.1:${port}`];
    for (const args of [
      ['recipe', 'show.json', '--target', 'log-179'],
      ['inspect', 'show.json', ...elsewhere],
      ['push', 'r.json', ...elsewhere, '--yes'],
      ['verify', 'r.json', ...elsewhere],
      ['standin', '--target', 'log-179', '--rig', 'show.json', '--port', '0'],
    ]) {
      const { exitCode, stderr, stdout } = await command(...args);
      expect([args[0], exitCode, stdout.toString()]).toEqual([args[0], 3, '']);
      expect(unwrapped(stderr)).toMatch(
        /Outputs 1 and 16 are no pair .* Write \[1, 2\] or \[15, 16\].*\[pair-unknown\]/,
      );
    }
  });
});
