import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { pathOf, runNode } from './processes.mjs';
import { median, milliseconds } from './rounds.mjs';

const binary = pathOf('dist/main.cjs');

/** Mixes of mono packs, one an output. */
const rigOf = (mixes) => ({
  format: 'bandwright-rig/1',
  title: `${mixes} mixes`,
  systems: { packs: { link: 'fm-stereo', audioLowHz: 40, audioHighHz: 15000 } },
  mixes: Array.from({ length: mixes }, (_, index) => ({
    name: `Mix ${index + 1}`,
    outputs: [2 * index + 1],
    feeds: 'packs',
  })),
});

const startStandin = async (target) => {
  const child = spawn(process.execPath, [binary, 'standin', '--target', target, '--port', '0', '--json'], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const lines = createInterface({ input: child.stdout });
  const port = await new Promise((resolve, reject) => {
    lines.on('line', (line) => {
      const told = JSON.parse(line);
      if (told.event === 'listening') resolve(told.port);
    });
    child.on('exit', () => reject(new Error('the stand-in ended')));
  });
  return { port, stop: () => new Promise((resolve) => child.on('exit', resolve) && child.kill('SIGTERM')) };
};

/**
 * A push with readback over loopback, as a process, without pacing: the desk flat before each, so that all of it is
 * written every time. Milliseconds by the number of mixes, and messages sent by each push.
 */
export const measurePush = async (counts, rounds) => {
  const folder = mkdtempSync(join(tmpdir(), 'bandwright-bench-'));
  try {
    const target = JSON.parse(readFileSync(pathOf('targets/log-179.json'), 'utf8'));
    const targetFile = join(folder, 'wide.json');
    const wide = { ...target, id: 'wide', outputs: { ...target.outputs, count: 512 } };
    writeFileSync(targetFile, JSON.stringify(wide));
    const results = [];
    for (const mixes of counts) {
      const rig = join(folder, `rig-${mixes}.json`);
      const recipe = join(folder, `recipe-${mixes}.json`);
      writeFileSync(rig, JSON.stringify(rigOf(mixes)));
      const making = ['recipe', rig, '--target', targetFile, '--fit', 'nearest', '--format', 'json'];
      runNode([binary, ...making, '--output', recipe], [0, 1]);
      const taken = [];
      for (let round = -1; round < rounds; round++) {
        const desk = await startStandin(targetFile);
        const to = ['--target', targetFile, '--to', `127.0.0.1:${desk.port}`, '--rate', '1000000'];
        const push = [binary, 'push', recipe, ...to, '--yes', '--accept-names', '--journal-folder', folder];
        const each = await milliseconds(async () => runNode(push));
        if (round >= 0) taken.push(each);
        await desk.stop();
      }
      results.push({ mixes, median: median(taken), milliseconds: taken });
    }
    return results;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};
