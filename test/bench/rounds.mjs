import { performance } from 'node:perf_hooks';

/** The middle one of some numbers; of an even count the mean of the middle two. */
export const median = (values) => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
};

/** How many milliseconds a task takes. */
export const milliseconds = async (task) => {
  const start = performance.now();
  await task();
  return performance.now() - start;
};

/**
 * Runs every task once a round, in turn (A B C A B C), so that a busy spell of the machine falls on all of them.
 * Gives each task's milliseconds, by its name, one number a round; a first round warms up and is not counted.
 */
export const interleave = async (tasks, rounds) => {
  const taken = Object.fromEntries(Object.keys(tasks).map((name) => [name, []]));
  for (let round = -1; round < rounds; round++) {
    for (const [name, task] of Object.entries(tasks)) {
      const each = await milliseconds(task);
      if (round >= 0) taken[name].push(each);
    }
  }
  return taken;
};
