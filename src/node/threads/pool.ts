import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';

/** How many threads this computer runs at once. */
export const threadsAtOnce = (): number => availableParallelism();

export interface PoolOptions {
  /** Threads to work on, at most; never more than there are jobs. */
  readonly threads: number;
  /** Told of each job when it is begun: its place, from 0. */
  readonly onBegin?: (job: number) => void;
}

/**
 * Does jobs on threads of a module that serves them (`serve-jobs.ts`), and gives their results in the order of the jobs,
 * however many threads there are. Jobs and results are plain data: they are copied. This thread only waits, so that it
 * hears interrupts at once; a job that throws, or a thread that ends, is thrown here, and no thread outlives the call.
 */
export const runOnThreads = async <Job, Result>(
  module: URL,
  jobs: readonly Job[],
  { threads, onBegin }: PoolOptions,
): Promise<readonly Result[]> => {
  const results: Result[] = [];
  const queue = jobs.entries();
  const workers = Array.from({ length: Math.min(threads, jobs.length) }, () => new Worker(module));

  const workOff = (worker: Worker): Promise<void> =>
    new Promise((resolve, reject) => {
      let current: number | undefined;
      const next = (): void => {
        const { value, done } = queue.next();
        if (done) {
          resolve();
          return;
        }
        current = value[0];
        onBegin?.(current);
        worker.postMessage(value[1]);
      };
      worker.on('message', (result: Result) => {
        results[current as number] = result;
        next();
      });
      worker.on('error', reject);
      worker.on('messageerror', reject);
      worker.on('exit', (code) =>
        reject(new Error(`a thread ended by itself, with ${code}, at job ${current}`)),
      );
      next();
    });

  try {
    await Promise.all(workers.map(workOff));
    return results;
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
};
