import { breathe } from './breathe.ts';
import type { Job, JobWatch } from './job.ts';
import type { WorkerOrder, WorkerReport } from './messages.ts';

/** The part of a worker's global scope that is used; the page's types do not have it. */
interface WorkerScope {
  addEventListener(type: 'message', listener: (event: MessageEvent<WorkerOrder>) => void): void;
  postMessage(message: WorkerReport, transfer?: readonly Transferable[]): void;
}

/** Loads a job's code when it is first asked for. */
// oxlint-disable-next-line typescript/no-explicit-any -- a table of jobs of all kinds; each caller's types are in runJob
export type JobTable = Readonly<Record<string, () => Promise<Job<any, unknown>>>>;

/** Does the jobs of a table for the page from now on, one at a time in the order they come. Called once, by the worker's own file. */
export function serveJobs(table: JobTable): void {
  const scope = globalThis as unknown as WorkerScope;
  const cancelled = new Set<number>();
  let last: Promise<void> = Promise.resolve();

  const run = async (number: number, name: string, order: unknown): Promise<void> => {
    let told = -1;
    const watch: JobWatch = {
      report: (done, total) => {
        const hundredth = Math.floor((done * 100) / Math.max(1, total));
        if (hundredth !== told) scope.postMessage({ kind: 'progress', number, done, total });
        told = hundredth;
      },
      cancelled: () => cancelled.has(number),
      breathe,
    };
    try {
      const load = table[name];
      if (load === undefined) throw new RangeError(`job must be one of the table's, not ${name}`);
      const job = await load();
      const made = cancelled.has(number) ? undefined : await job(order, watch);
      if (made === undefined) scope.postMessage({ kind: 'cancelled', number });
      else scope.postMessage({ kind: 'done', number, value: made.value }, [...(made.transfer ?? [])]);
    } catch (error) {
      scope.postMessage({ kind: 'failed', number, message: error instanceof Error ? error.message : String(error) });
    }
    cancelled.delete(number);
  };

  scope.addEventListener('message', ({ data }) => {
    if (data.kind === 'cancel') cancelled.add(data.number);
    else last = last.then(() => run(data.number, data.job, data.order));
  });
}
