import { doWork } from './fit-job.js';
import { serveJobs } from './serve-jobs.js';

serveJobs((job: Parameters<typeof doWork>[0]) => doWork(job));
