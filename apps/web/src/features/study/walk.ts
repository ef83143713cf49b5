import type { Lesson, PlannedSlot } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import { everyFrame } from '../../platform/audio/index.ts';
import { nowMs } from '../../platform/clock/index.ts';
import { $made } from '../open-lesson/index.ts';
import type { HeardPlace } from '../sound/index.ts';
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
  /** The next slot at which the hand is elsewhere; null where it stays to the end. */
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

let stopFrames: (() => void) | undefined;
/** Counts starts, so that one that was overtaken does not walk on. */
let starts = 0;

/** Walks no further; what sounds goes on. */
function rest(): void {
  starts++;
  stopFrames?.();
  stopFrames = undefined;
  if ($walk.get().isWalking) $walk.set({ ...$walk.get(), isWalking: false });
}

/** Stops where the hand is. */
export function stopWalk(): void {
  const { isWalking } = $walk.get();
  rest();
  if (isWalking && $walkSounds.get()) silence();
}

/** A few frames of sound: a position computed as just before a chord is on it. */
const ROUNDING_SECONDS = 1e-4;

/**
 * Walks from where the hand is to the end of the form, in time; from the start where it is at the end. With the trio, the hand is
 * wherever the loudspeaker is: it waits where the sound waits.
 */
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
  const hearing = $walkSounds.get() ? await sound(stretchHeard(lesson, fromTicks, lesson.score.endTicks)) : undefined;
  if (start !== starts) return;
  const perTick = secondsPerTick(lesson);
  const endSeconds = (lesson.score.endTicks - fromTicks) * perTick;
  const beganMs = nowMs();
  // without sound there is no audio clock to keep to
  const place = (): HeardPlace =>
    hearing === undefined ? { kind: 'sounding', seconds: (nowMs() - beganMs) / 1000 } : hearing.at();
  const step = (): void => {
    if ($walkView.get()?.lesson !== lesson) {
      stopWalk();
      return;
    }
    const at = place();
    if (at.kind === 'coming') return;
    if (at.kind === 'over' || at.seconds >= endSeconds) {
      // the last notes may ring out, and what is heard instead is none of ours
      rest();
      return;
    }
    const ticks = fromTicks + (at.seconds + ROUNDING_SECONDS) / perTick;
    const index = slots.findLastIndex(({ analysed }) => analysed.played.startTicks <= ticks);
    if (index > $walk.get().index) $walk.set({ index, isWalking: true });
  };
  stopFrames = everyFrame(step);
}

/** Goes to a chord of the form and stops there. */
export function walkTo(index: number): void {
  stopWalk();
  const last = ($walkView.get()?.lesson.plan.slots.length ?? 1) - 1;
  $walk.set({ index: Math.max(0, Math.min(index, last)), isWalking: false });
}
