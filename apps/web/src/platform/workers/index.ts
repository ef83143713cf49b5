export type { Job, JobWatch } from './job.ts';
export { serveJobs, type JobTable } from './serve-jobs.ts';
export { mostWorkers, type EndedJob, type JobOptions, type Urgency } from './pool.ts';
export { recentJobs, runJob, startWorkers } from './run-job.ts';
