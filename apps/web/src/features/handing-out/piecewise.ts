import { runJob, type JobOptions } from '../../platform/workers/index.ts';
import type { Piecewise, PiecewiseOrder } from './piecewise-job.ts';

let last = 0;

/**
 * Has something made in many short jobs (see piecewise-job.ts).
 * @param name the work's: its jobs are `begin NAME`, `go on with NAME`, `drop NAME`
 * @throws rejects with the signal's reason where it was stopped, with an Error where it failed
 */
// oxlint-disable-next-line typescript/no-unnecessary-type-parameters -- who asks names it, to be held to it
export async function makeInPieces<Order>(
  name: string,
  order: Order,
  options: JobOptions & { readonly home: string },
): Promise<Uint8Array> {
  const number = ++last;
  const { report, ...rest } = options;
  try {
    let now = await runJob<PiecewiseOrder<Order>, Piecewise>(`begin ${name}`, { number, order }, rest);
    while (now.kind === 'so far') {
      if (now.step !== null) report?.(now.step.done, now.step.total);
      now = await runJob<number, Piecewise>(`go on with ${name}`, number, rest);
    }
    return now.bytes;
  } catch (error) {
    // what is half made is no use: its memory is wanted back
    void runJob<number, true>(`drop ${name}`, number, { home: options.home }).catch(() => {});
    throw error;
  }
}
