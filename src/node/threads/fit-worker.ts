import { fitJob } from './fit-job.js';
import { serveJobs } from './serve-jobs.js';

serveJobs(fitJob);
