import type { Chart, DrillOrder } from '@fivespan/core';
import { atom } from 'nanostores';
import { $drillChoice, chooseDrill, drillChoiceFor } from './drill-choice.ts';

/** A drill that is played in the tune's place. */
export interface DrillPlayed {
  readonly lessonId: string;
  readonly order: DrillOrder;
}

export const $drillPlayed = atom<DrillPlayed | null>(null);

/** The drill that is played of a lesson; null for the tune. */
export function drillPlayedOf(lessonId: string | undefined, played: DrillPlayed | null): DrillOrder | null {
  return played === null || played.lessonId !== lessonId ? null : played.order;
}

/** From now on a drill is played in the tune's place. */
export function playDrillInstead(lessonId: string, order: DrillOrder): void {
  $drillPlayed.set({ lessonId, order });
}

/** Back to the tune. */
export function playTuneAgain(): void {
  $drillPlayed.set(null);
}

/** The lesson whose drill is looked at on paper, in its pages' place; null for the pages. */
export const $drillOnPaper = atom<string | null>(null);

/** Looks at a lesson's drill on paper, or at its pages again. */
export function showDrillOnPaper(lessonId: string | null): void {
  $drillOnPaper.set(lessonId);
}

/** Looks at the drill of a kept phrase on paper: the same line round all keys, from where the drill's choices were. */
export function drillPhrase(lessonId: string, chart: Chart, phrase: string): void {
  const now = drillChoiceFor(lessonId, chart, $drillChoice.get());
  chooseDrill(now, { kind: 'same-line', phrase, isPhraseOverBars: false, round: now.round ?? 'fifths' });
  showDrillOnPaper(lessonId);
}
