import { beforeEach, expect, test, vi } from 'vitest';
import { $made } from '../open-lesson/index.ts';
import type { HeardPlace } from '../sound/index.ts';
import { lessonOf, TWICE } from './invented-study.ts';
import { $walkSounds, $walkView, startWalk, stopWalk, walkTo } from './walk.ts';

/** The loudspeaker, and the next frame: both wait for the test. */
const stand = vi.hoisted(() => ({ at: { kind: 'coming' } as HeardPlace, frame: (): void => undefined, silenced: 0 }));
vi.mock('../sound/index.ts', () => ({
  hear: async () => ({ at: () => stand.at }),
  stopHearing: () => stand.silenced++,
}));
vi.mock('../../platform/audio/index.ts', () => ({
  everyFrame: (call: () => void) => {
    stand.frame = call;
    return () => (stand.frame = () => undefined);
  },
}));

// 120 to the minute: Dm7 and G7 a second each, Cmaj7 two
const lesson = lessonOf(TWICE);

function walkedTo(place: HeardPlace): number | undefined {
  stand.at = place;
  stand.frame();
  return $walkView.get()?.index;
}

beforeEach(() => {
  vi.useFakeTimers();
  stand.at = { kind: 'coming' };
  stand.silenced = 0;
  $walkSounds.set(true);
  $made.set({ chartText: TWICE, chart: lesson.chart, choices: lesson.choices, lesson });
  walkTo(0);
});

test('the hand is where the loudspeaker is, however much time has passed', async () => {
  await startWalk();
  await vi.advanceTimersByTimeAsync(5000);
  expect(walkedTo({ kind: 'coming' })).toBe(0);
  expect(walkedTo({ kind: 'sounding', seconds: 0.99 })).toBe(0);
  expect(walkedTo({ kind: 'sounding', seconds: 1 })).toBe(1);
  // the sound waits for what comes next, and so does the hand
  await vi.advanceTimersByTimeAsync(5000);
  expect(walkedTo({ kind: 'sounding', seconds: 1.2 })).toBe(1);
  expect(walkedTo({ kind: 'sounding', seconds: 2 })).toBe(2);
  expect($walkView.get()?.isWalking).toBe(true);
  stopWalk();
  expect(stand.silenced).toBe(1);
});

test('at the end the last notes ring out; where something else is heard it stays as it is', async () => {
  walkTo(3);
  await startWalk();
  expect(walkedTo({ kind: 'sounding', seconds: 1 })).toBe(4);
  expect(walkedTo({ kind: 'over' })).toBe(4);
  expect($walkView.get()?.isWalking).toBe(false);
  expect(stand.silenced).toBe(0);
});

test('without sound it walks by the clock', async () => {
  $walkSounds.set(false);
  await startWalk();
  await vi.advanceTimersByTimeAsync(1001);
  stand.frame();
  expect($walkView.get()?.index).toBe(1);
  stopWalk();
  expect(stand.silenced).toBe(0);
});
