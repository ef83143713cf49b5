import { atom } from 'nanostores';
import { changeSettings, $settings } from '../settings/index.ts';

/** What the look round speaks of, in its order; each is marked in the frame (`data-tour`). */
export const TOUR_STEPS = ['lesson', 'chart', 'study', 'play', 'pages', 'lessons', 'help'] as const;
export type TourStep = (typeof TOUR_STEPS)[number];

/** Where the look round is; null where it is not shown. */
export const $tourStep = atom<TourStep | null>(null);

/** Begins the look round. It needs a lesson's screen to speak of. */
export function startTour(): void {
  $tourStep.set(TOUR_STEPS[0]);
}

/** Goes on or back; behind the last step it is over. */
export function turnTour(by: 1 | -1): void {
  const step = $tourStep.get();
  if (step === null) return;
  const next = TOUR_STEPS[TOUR_STEPS.indexOf(step) + by];
  if (next === undefined) endTour();
  else $tourStep.set(next);
}

/** Ends or skips it: it is not shown again unasked. */
export function endTour(): void {
  $tourStep.set(null);
  if (!$settings.get().tourSeen) changeSettings({ tourSeen: true });
}
