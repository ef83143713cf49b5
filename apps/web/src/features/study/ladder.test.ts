import { beforeEach, expect, test, vi } from 'vitest';
import { $made, $open, type OpenLesson } from '../open-lesson/index.ts';
import { lessonOf, TWICE } from './invented-study.ts';
import { $isLadderFaulty, $ladderView, studyAgain, watchLadder } from './ladder.ts';
import { studyLadder, type LadderOrder } from './ladder-job.ts';

const { runJob } = vi.hoisted(() => ({ runJob: vi.fn<(job: string, order: LadderOrder) => Promise<unknown>>() }));
vi.mock('../../platform/workers/index.ts', () => ({ runJob }));

const lesson = lessonOf(TWICE);
const reported = vi.fn<(error: unknown) => void>();

beforeEach(() => {
  vi.stubGlobal('reportError', reported);
  $open.set({ id: 'a', chartText: TWICE, choices: lesson.choices } as OpenLesson);
  $made.set({ chartText: TWICE, chart: lesson.chart, choices: lesson.choices, lesson });
});

test('a ladder that cannot be studied is told, and studied when it is asked for again', async () => {
  runJob.mockRejectedValueOnce(new Error('the worker is gone'));
  const stop = watchLadder();
  await vi.waitFor(() => expect($isLadderFaulty.get()).toBe(true));
  expect(reported).toHaveBeenCalledWith(new Error('the worker is gone'));
  // what needs no ladder is there
  expect($ladderView.get()?.lookedAt.isUsed).toBe(true);

  runJob.mockImplementationOnce(async (_job, order) => studyLadder(order));
  await studyAgain();
  expect($isLadderFaulty.get()).toBe(false);
  expect($ladderView.get()?.rungs.every(({ studied }) => studied !== undefined)).toBe(true);
  stop();
});
