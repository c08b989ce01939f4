import { availableParallelism } from 'node:os';
import { pathOf, runNode } from './processes.mjs';
import { interleave, median } from './rounds.mjs';

const rig = 'test/fixtures/rig-24-mixes.json';

const compare = (threads) =>
  runNode([pathOf('dist/main.cjs'), 'compare', pathOf(rig), '--threads', String(threads)], [0, 1]);

/** A rig of 24 mixes on every shipped target, as a process: on one thread and on all this computer runs at once. */
export const measureCompare = async (rounds) => {
  const threads = availableParallelism();
  const taken = await interleave({ one: () => compare(1), all: () => compare(threads) }, rounds);
  const medians = { one: median(taken.one), all: median(taken.all) };
  return { rig, threads, medians, ratio: medians.one / medians.all, milliseconds: taken };
};
