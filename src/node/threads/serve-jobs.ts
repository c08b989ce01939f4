import { parentPort } from 'node:worker_threads';

/** Serves jobs on this thread, one after the other, until it is ended. What a job throws ends it. */
export const serveJobs = <Job, Result>(work: (job: Job) => Result | Promise<Result>): void => {
  if (!parentPort) throw new Error('jobs are served on a thread, not by a program of its own');
  const port = parentPort;
  port.on('message', async (job: Job) => port.postMessage(await work(job)));
};
