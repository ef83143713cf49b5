import type { Job } from '../../platform/workers/index.ts';
import { viewOfTake, type TakeJudged } from './take-view.ts';

/** Judges a take. */
export const judgeJob: Job<string, TakeJudged> = async (text) => ({ value: viewOfTake(text) });
