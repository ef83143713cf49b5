import { closeKeys, type Chart, type Key } from '@fivespan/core';
import type { Job } from '../../platform/workers/index.ts';

/** The keys that lie close to the one found for a chart; none where it states its key. */
export const openKeyJob: Job<Chart, readonly Key[]> = async (chart) => ({
  value: closeKeys(chart).map(({ key }) => key),
});
