import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const pathOf = (place) => fileURLToPath(new URL(`../../${place}`, import.meta.url));

/**
 * The environment without NODE_ variables. Reading the certificates that NODE_EXTRA_CA_CERTS names, for one, takes
 * Node.js 20 longer than the rest of its start: ratios to such a start would look better than they are.
 */
const environment = Object.fromEntries(
  Object.entries(process.env).filter(([key]) => !key.startsWith('NODE_')),
);

/** Runs Node.js with arguments to its end. A run that ends otherwise than expected is no measurement. */
export const runNode = (argv, expected = [0]) => {
  const run = spawnSync(process.execPath, argv, { env: environment, encoding: 'utf8' });
  if (!expected.includes(run.status)) {
    throw new Error(`node ${argv.join(' ')} ended with ${run.status ?? run.signal}: ${run.stderr}`);
  }
};

/** Makes a recipe in a process of its own. Exit code 1 is a recipe too: one that tells what falls short. */
export const runRecipe = (rig, target, fit = 'nearest') =>
  runNode([pathOf('dist/main.cjs'), 'recipe', pathOf(rig), '--target', target, '--fit', fit], [0, 1]);
