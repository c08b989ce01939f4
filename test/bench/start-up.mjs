import { pathOf, runNode, runRecipe } from './processes.mjs';
import { interleave, median } from './rounds.mjs';

const rig = 'test/fixtures/rig-small.json';
const target = 'log-179';

const tasks = {
  'node -e 0': () => runNode(['-e', '0']),
  '--help': () => runNode([pathOf('dist/main.cjs'), '--help']),
  'recipe of 2 mixes, nearest': () => runRecipe(rig, target),
};

/** The most that start-up is meant to take, as a ratio to an empty start of Node.js. Told, never enforced. */
const aims = { '--help': 1.5, 'recipe of 2 mixes, nearest': 2.5 };

/** What the program adds to an empty start of Node.js, as ratios to it. */
export const measureStartUp = async (rounds) => {
  // Where Node.js keeps compiled modules, the first run of each fills the store, as it does for users.
  for (const run of Object.values(tasks)) run();
  const taken = await interleave(tasks, rounds);
  const empty = median(taken['node -e 0']);
  return Object.entries(taken).map(([name, milliseconds]) => {
    const middle = median(milliseconds);
    return { name, median: middle, ratio: middle / empty, aim: aims[name] ?? null, milliseconds };
  });
};
