import { WorkerPool, type EndedJob, type JobOptions } from './pool.ts';

let pool: WorkerPool | undefined;

/**
 * Says how a worker is started. Called once, when the application starts; no worker is started before the first job.
 * @param after jobs wait for it: the first screen's own script goes first
 */
export function startWorkers(make: () => Worker, after?: Promise<void>): void {
  pool = new WorkerPool(make, after);
}

/**
 * Does a job in a worker.
 * @param job its name in the table of `jobs.ts`
 * @throws rejects with the signal's reason where it was cancelled, with an Error where it failed
 */
// oxlint-disable-next-line typescript/no-unnecessary-type-parameters -- who asks names both, to be held to them
export function runJob<Order, Value>(job: string, order: Order, options: JobOptions = {}): Promise<Value> {
  if (pool === undefined) throw new TypeError('startWorkers must be called before runJob');
  return pool.run<Order, Value>(job, order, options);
}

/** The last jobs that have ended, oldest first, with how long they waited and took. */
export function recentJobs(): readonly EndedJob[] {
  return pool?.recentJobs() ?? [];
}
