import { expect, test } from 'vitest';
import type { JobWatch } from '../../platform/workers/index.ts';
import { piecewiseJobs, type PieceSteps } from './piecewise-job.ts';

const watch = (isCancelled = false): JobWatch => ({
  report: () => {},
  cancelled: () => isCancelled,
  breathe: () => Promise.resolve(),
});

function* counted(bytes: number): PieceSteps {
  for (let done = 0; done < bytes; done++) yield { done, total: bytes };
  return Uint8Array.from({ length: bytes }, (_, index) => index);
}

const jobs = () => piecewiseJobs<number>((bytes) => Promise.resolve(counted(bytes)), 3);

test('two works side by side are each made to their end, a few steps a job', async () => {
  const { begin, goOn } = jobs();
  await begin({ number: 1, order: 7 }, watch());
  await begin({ number: 2, order: 2 }, watch());
  expect((await goOn(1, watch()))?.value).toEqual({ kind: 'so far', step: { done: 2, total: 7 } });
  expect((await goOn(2, watch()))?.value).toEqual({ kind: 'made', bytes: Uint8Array.of(0, 1) });
  expect((await goOn(1, watch()))?.value).toEqual({ kind: 'so far', step: { done: 5, total: 7 } });
  expect((await goOn(1, watch()))?.value).toEqual({ kind: 'made', bytes: Uint8Array.of(0, 1, 2, 3, 4, 5, 6) });
});

test('what is dropped, cancelled or at its end is gone', async () => {
  const { begin, goOn, drop } = jobs();
  await begin({ number: 1, order: 9 }, watch());
  await drop(1, watch());
  await expect(goOn(1, watch())).rejects.toThrow(/gone/u);
  expect(await begin({ number: 2, order: 9 }, watch(true))).toBeUndefined();
  await expect(goOn(2, watch())).rejects.toThrow(/gone/u);
  await begin({ number: 3, order: 1 }, watch());
  await goOn(3, watch());
  await expect(goOn(3, watch())).rejects.toThrow(/gone/u);
});
