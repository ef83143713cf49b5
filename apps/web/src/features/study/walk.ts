import type { Lesson, PlannedSlot } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import { nowMs } from '../../platform/clock/index.ts';
import { $made } from '../open-lesson/index.ts';
import { secondsPerTick, stretchHeard } from './hearing.ts';
import { silence, sound } from './sounding.ts';

/** The way of the hand through the form, one chord after the other. */
interface Walk {
  readonly index: number;
  readonly isWalking: boolean;
}

const $walk = atom<Walk>({ index: 0, isWalking: false });

/** Whether the trio is heard along the way. */
export const $walkSounds = atom(true);

/** Where the hand is on its way. */
export interface WalkView {
  readonly lesson: Lesson;
  readonly index: number;
  readonly isWalking: boolean;
  readonly now: PlannedSlot;
  /** The next slot at which the hand lies elsewhere; null where it stays to the end. */
  readonly next: PlannedSlot | null;
}

function isSamePlace(a: PlannedSlot, b: PlannedSlot): boolean {
  return a.thumbMidi === b.thumbMidi && a.position?.shape.id === b.position?.shape.id;
}

export const $walkView = computed([$made, $walk], (made, { index, isWalking }): WalkView | null => {
  const slots = made?.lesson.plan.slots ?? [];
  const at = Math.min(index, slots.length - 1);
  const now = slots[at];
  if (made === null || now === undefined) return null;
  const next = slots.slice(at + 1).find((each) => each.position !== null && !isSamePlace(each, now)) ?? null;
  return { lesson: made.lesson, index: at, isWalking, now, next };
});

let timer: ReturnType<typeof setTimeout> | undefined;
/** Counts starts, so that one that was overtaken does not walk on. */
let starts = 0;

/** Stops where the hand is. */
export function stopWalk(): void {
  starts++;
  clearTimeout(timer);
  timer = undefined;
  if (!$walk.get().isWalking) return;
  if ($walkSounds.get()) silence();
  $walk.set({ ...$walk.get(), isWalking: false });
}

/** Walks from where the hand is to the end of the form, in time; from the start where it is at the end. */
export async function startWalk(): Promise<void> {
  const view = $walkView.get();
  if (view === null) return;
  stopWalk();
  const { lesson } = view;
  const { slots } = lesson.plan;
  const from = view.index >= slots.length - 1 ? 0 : view.index;
  const start = starts;
  $walk.set({ index: from, isWalking: true });
  const fromTicks = slots[from]?.analysed.played.startTicks ?? 0;
  if ($walkSounds.get()) {
    await sound(stretchHeard(lesson, fromTicks, lesson.score.endTicks));
    if (start !== starts) return;
  }
  const perTick = secondsPerTick(lesson) * 1000;
  const began = nowMs();
  const step = (index: number): void => {
    const following = slots[index];
    // by the clock, not by sums of delays: what comes late once does not come late for good
    const due = (following?.analysed.played.startTicks ?? lesson.score.endTicks) - fromTicks;
    timer = setTimeout(
      () => {
        if ($walkView.get()?.lesson !== lesson || following === undefined) stopWalk();
        else {
          $walk.set({ index, isWalking: true });
          step(index + 1);
        }
      },
      Math.max(0, began + due * perTick - nowMs()),
    );
  };
  step(from + 1);
}

/** Goes to a chord of the form and stops there. */
export function walkTo(index: number): void {
  stopWalk();
  const last = ($walkView.get()?.lesson.plan.slots.length ?? 1) - 1;
  $walk.set({ index: Math.max(0, Math.min(index, last)), isWalking: false });
}
