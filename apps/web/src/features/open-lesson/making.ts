import type { Chart, Choices, Lesson } from '@fivespan/core';
import { atom } from 'nanostores';
import { noteMishap } from '../../platform/diagnostics/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { LessonOrder } from './lesson-job.ts';

/** What is to be computed. */
export interface Wanted {
  readonly chart: Chart;
  readonly chartText: string;
  readonly choices: Choices;
}

/** What is computed of the open lesson, and for which text and choices. */
export interface ComputedLesson {
  readonly chartText: string;
  /** As written; the lesson's own is in the key it is shown in. */
  readonly chart: Chart;
  readonly choices: Choices;
  readonly lesson: Lesson;
}

/** The last computed lesson; it lags behind the text by a moment. */
export const $made = atom<ComputedLesson | null>(null);

/** Why the music of the lesson as it is now was not computed; null where it was, or is being. Nobody waits for it any more. */
export const $notMade = atom<{ readonly message: string } | null>(null);

/** Numbers lessons that are computed, so that a late answer to an old question is dropped. */
let asked = 0;
let asking: AbortController | undefined;

/** What was asked for last. */
let last: () => Wanted | null = () => null;

/** Has the lesson computed. @param wanted is asked when its turn comes @param pauseMs how long nothing newer must come before that */
export function make(wanted: () => Wanted | null, pauseMs: number): void {
  asking?.abort(new DOMException('a newer question', 'AbortError'));
  const number = ++asked;
  last = wanted;
  $notMade.set(null);
  if (pauseMs === 0) ask(number);
  else {
    setTimeout(() => {
      if (number === asked) ask(number);
    }, pauseMs);
  }
}

function ask(number: number): void {
  const wanted = last();
  if (wanted === null) return;
  const { chart, chartText, choices } = wanted;
  asking = new AbortController();
  const order: LessonOrder = { chart, choices, key: null };
  runJob<LessonOrder, Lesson>('make lesson', order, { urgency: 'now', signal: asking.signal }).then(
    (lesson) => {
      if (number === asked) $made.set({ chartText, chart, choices, lesson });
    },
    (error: unknown) => {
      // overtaken by a newer question: that one's answer counts
      if (number !== asked) return;
      noteMishap(error);
      $notMade.set({ message: error instanceof Error ? error.message : String(error) });
    },
  );
}

/** Has the music computed once more that could not be. */
export function makeAgain(): void {
  make(last, 0);
}

/** Nothing is wanted any more. */
export function stopMaking(): void {
  asking?.abort(new DOMException('closed', 'AbortError'));
  asked++;
  $made.set(null);
  $notMade.set(null);
}
