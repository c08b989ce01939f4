import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import pc from 'picocolors';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runInspect } from '../../src/cli/inspect/inspect.js';
import { runPush } from '../../src/cli/push/push.js';
import { runVerify } from '../../src/cli/verify/verify.js';
import type { Terminal } from '../../src/cli/words/terminal.js';
import { colouredVerdicts } from '../../src/cli/words/verdict-colours.js';
import { writeJson } from '../../src/documents/write-json.js';
import { displayWidth } from '../../src/layout/display-width.js';
import { startStandin } from '../../src/node/standin/start-standin.js';
import { recipeOn, rig, shippedDesk } from '../live/recipe-on.js';
import { captured } from './captured.js';

/** What a command prints in a window, in colour or not. */
const printed = async (
  command: (terminal: Terminal) => Promise<number>,
  columns: number,
  isColoured: boolean,
): Promise<string> => (await captured(command, { columns, isColoured })).out;

/** The commands that look at a desk, on a stand-in whose filters stand anyhow. */
const rehearsal = async (id: string) => {
  const desk = await shippedDesk(id);
  const folder = await mkdtemp(join(tmpdir(), 'bandwright-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const [rigFile, recipeFile] = [join(folder, 'show.json'), join(folder, 'recipe.json')];
  await writeFile(rigFile, JSON.stringify(rig));
  await writeFile(recipeFile, writeJson(recipeOn(desk)));
  const standin = await startStandin({
    desk,
    kind: 'udp',
    port: 0,
    bind: '127.0.0.1',
    scatter: true,
    seed: 3,
  });
  if (!standin.ok) throw new Error(JSON.stringify(standin.error));
  onTestFinished(() => standin.value.close());
  const to = `127.0.0.1:${standin.value.port}`;
  const reach = { to, target: id, rate: 5000, timeout: 250, retries: 7, quantiser: [] };
  const pushing = { ...reach, yes: true, acceptNames: true, journalFolder: join(folder, 'journals') };
  return {
    inspect: (terminal: Terminal) =>
      runInspect(rigFile, { ...reach, format: 'text', spareSlots: 0 }, terminal),
    verify: (terminal: Terminal) => runVerify(recipeFile, reach, terminal),
    push: (terminal: Terminal) => runPush(recipeFile, pushing, terminal),
  };
};

// SGR 31, 32, 33 and 39 (ECMA-48, 8.3.117): red, green, yellow, and back to the usual.
const coloured = { red: 31, green: 32, yellow: 33 } as const;
const inColour = (tone: keyof typeof coloured, word: string): string =>
  `\u001b[${coloured[tone]}m${word}\u001b[39m`;

describe('reports about a desk', () => {
  it('fit every window, and say the same in colour', async () => {
    const { inspect, verify, push } = await rehearsal('cut-section');
    for (const [command, word] of [
      [inspect, inColour('red', 'AT RISK')],
      [verify, inColour('red', 'DIFFERS')],
    ] as const) {
      for (const columns of [40, 60, 80, 100, 120]) {
        const plain = await printed(command, columns, false);
        const widest = Math.max(...plain.split('\n').map(displayWidth));
        expect([columns, widest <= columns, widest > 30]).toEqual([columns, true, true]);
        const told = await printed(command, columns, true);
        expect(told).toContain(word);
        expect(stripVTControlCharacters(told)).toBe(plain);
      }
    }
    expect(await printed(push, 40, true)).toContain(`${inColour('green', 'SET')} `);
    expect(await printed(verify, 40, true)).toContain(inColour('green', 'HOLDS'));
    expect(await printed(push, 40, true)).toContain(inColour('green', 'STOOD SO'));
    expect(await printed(inspect, 40, true)).toContain(inColour('green', 'PILOT SAFE'));
  });
});

describe('a verdict', () => {
  const terminal = { outColours: pc.createColors(true) };
  it.each<[string, string, string]>([
    ['first in a line', 'NOT KNOWN   3/4     Heron', `${inColour('yellow', 'NOT KNOWN')}   3/4     Heron`],
    [
      'that fills its column',
      'NOT WRITTEN 3/4     Heron',
      `${inColour('yellow', 'NOT WRITTEN')} 3/4     Heron`,
    ],
    [
      'behind the time of day',
      '19:42:07  DIFFERS     3/4     Heron',
      `19:42:07  ${inColour('red', 'DIFFERS')}     3/4     Heron`,
    ],
    [
      'behind a desk',
      './our desk.json  FALLS SHORT    9.4',
      `./our desk.json  ${inColour('red', 'FALLS SHORT')}    9.4`,
    ],
    ['that ends a line', 'r40 GUARD MET', `r40 ${inColour('green', 'GUARD MET')}`],
  ])('%s is in colour', (_, line, told) => {
    expect(colouredVerdicts([line], terminal)).toEqual([told]);
  });

  it.each(['SET LIST, the long one', '    SET', 'a mix that HOLDS still', 'SAFER  than', 'READ HOLDSALL  x'])(
    'is no part of other words: %s',
    (line) => {
      expect(colouredVerdicts([line], terminal)).toEqual([line]);
    },
  );
});
