export type { Job, JobWatch } from './job.ts';
export { serveJobs, type JobTable } from './serve-jobs.ts';
export type { JobOptions, Urgency } from './pool.ts';
export { runJob, startWorkers } from './run-job.ts';
