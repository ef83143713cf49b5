import { DEFAULT_CHOICES, formatKey, makeLesson, readAround, type Chart } from '@fivespan/core';
import { beforeEach, expect, test, vi } from 'vitest';
import type { JobWatch } from '../../platform/workers/index.ts';
import { $made } from '../open-lesson/index.ts';
import { openKeyJob } from './open-key-job.ts';
import { $openKey, watchOpenKey } from './open-key.ts';

vi.mock('../../platform/workers/index.ts', () => ({
  runJob: async (_: string, chart: Chart) => (await openKeyJob(chart, {} as JobWatch))?.value,
}));

/** The keys left open for a chart, the one found first. */
async function openOf(chartText: string): Promise<string[] | null> {
  const { chart } = readAround(chartText);
  if (chart === null) throw new TypeError('a chart');
  $made.set({ chartText, chart, choices: DEFAULT_CHOICES, lesson: makeLesson(chart, DEFAULT_CHOICES) });
  await new Promise((resolve) => setTimeout(resolve));
  const open = $openKey.get();
  return open === null ? null : [open.found, ...open.others].map(formatKey);
}

beforeEach(() => watchOpenKey());

test('keys that lie close are offered, the one found first; none where the key is plain or stated', async () => {
  const loop = '| Fmaj7 | Em7 A7 | Dm7 | G7 |';
  const open = await openOf(loop);
  expect(open).toContain('C major');
  expect(open?.[0]).toBe('D minor');
  expect(new Set(open).size).toBe(open?.length);
  expect(await openOf('| Dm7 | G7 | Cmaj7 | Am7 |')).toBeNull();
  expect(await openOf(`key: C major\n${loop}`)).toBeNull();
});
