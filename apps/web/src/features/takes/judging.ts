import { runJob } from '../../platform/workers/index.ts';
import type { TakeJudged } from './take-view.ts';

/** Judges a take in a worker, before all else that waits: somebody has just let go of the keys. */
export async function judge(take: string, signal: AbortSignal, urgency: 'now' | 'soon' = 'now'): Promise<TakeJudged> {
  return await runJob<string, TakeJudged>('judge take', take, { urgency, signal });
}
