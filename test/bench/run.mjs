// Speed as ratios, each taken within one run. Nothing here passes or fails. --json prints every number taken.
import { cpus, loadavg } from 'node:os';
import { measureCodec } from './codec.mjs';
import { measureCompare } from './compare.mjs';
import { measureLearning } from './learning.mjs';
import { measureProtect } from './protect.mjs';
import { measurePush } from './push.mjs';
import { measureRecipe } from './recipe.mjs';
import { measureResponse } from './response.mjs';
import { measureSheet } from './sheet.mjs';
import { measureStartUp } from './start-up.mjs';
import { tables } from './tables.mjs';

const rounds = {
  response: 31,
  recipe: 15,
  startUp: 31,
  protect: 9,
  codec: 31,
  push: 5,
  compare: 5,
  learning: 15,
  sheet: 9,
};

/** Mixes of a push: 32 is a large show, the others tell how it grows. */
const mixes = [1, 2, 4, 8, 16, 32, 64, 128];

const [loadBefore] = loadavg();
const startUp = await measureStartUp(rounds.startUp);
const recipe = await measureRecipe(rounds.recipe);
const response = await measureResponse(rounds.response);
const protect = await measureProtect(rounds.protect);
const codec = await measureCodec(rounds.codec);
const push = await measurePush(mixes, rounds.push);
const compare = await measureCompare(rounds.compare);
const learning = await measureLearning(rounds.learning);
const sheet = await measureSheet(rounds.sheet);
const [loadAfter] = loadavg();

const machine = {
  node: process.version,
  processor: cpus()[0]?.model ?? 'processor not known',
  processors: cpus().length,
  loadBefore,
  loadAfter,
};
const measured = {
  machine,
  rounds,
  response,
  recipe,
  startUp,
  protect,
  codec,
  push,
  compare,
  learning,
  sheet,
};
process.stdout.write(
  `${process.argv.includes('--json') ? JSON.stringify(measured, null, 2) : tables(measured)}\n`,
);
