import { formatKey, type DrillOrder } from '@fivespan/core';
import { $open } from '../open-lesson/index.ts';
import { $programme } from '../programme/index.ts';
import { playDrillInstead } from '../drill/index.ts';
import {
  $piece,
  changeMix,
  changePractice,
  chorusSegments,
  playableOf,
  prepareProgramme,
  startOrPause,
} from '../playing/index.ts';
import { $takeShown } from './recorder.ts';
import type { TakeStep } from './step.ts';
import type { TakeView } from './take-view.ts';

/** The row of the programme that is in the take's key; the first where none is. */
function rowOf(view: TakeView): { readonly chorus: number; readonly tempoBpm: number } {
  const piece = $piece.get();
  const rows = piece === null ? [] : chorusSegments(piece).map((segment) => piece.segments[segment]);
  const found = rows.findIndex((segment) => segment !== undefined && formatKey(segment.key) === formatKey(view.key));
  const chorus = Math.max(0, found);
  return { chorus, tempoBpm: rows[chorus]?.tempoBpm ?? view.tempoBpm };
}

/** Starts what a remark proposes, at once. Call from a key or click. */
export function startStep(step: TakeStep, view: TakeView, lessonId: string): void {
  $takeShown.set(null);
  if (step.kind === 'drill') {
    const drill: DrillOrder = { kind: step.drill, bars: null, keys: [view.key], tempi: { steps: [step.tempoBpm] } };
    playDrillInstead(lessonId, drill);
    // at the tempo that is said, whatever the tune was slowed down to
    changePractice({ rate: 1, loop: null });
    // it is made first, and starts as soon as it is
    void prepareProgramme(playableOf($open.get(), $programme.get(), drill));
    startOrPause();
    return;
  }
  const { chorus, tempoBpm } = rowOf(view);
  const from = step.kind === 'loop' ? step.fromPlace : 0;
  changePractice({
    rate: step.tempoBpm / tempoBpm,
    start: { chorus, bar: from },
    loop: step.kind === 'loop' ? { chorus, fromBar: step.fromPlace, toBar: step.toPlace } : null,
  });
  if (step.kind === 'tempo' && step.alone) {
    for (const player of ['right hand', 'left hand', 'bass'] as const) changeMix(player, { muted: true });
  }
  startOrPause();
}

/** Plays the tune again, as it was played. Call from a key or click. */
export function playItAgain(): void {
  $takeShown.set(null);
  startOrPause();
}
