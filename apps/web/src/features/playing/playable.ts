import type { Chart, Choices, Programme } from '@fivespan/core';
import type { OpenLesson } from '../open-lesson/index.ts';

/** What is to be played. */
export interface Playable {
  readonly lessonId: string;
  readonly chart: Chart;
  readonly choices: Choices;
  readonly programme: Programme;
}

/**
 * What can be played of a lesson. Nothing while it is held: its notes would be another music engine's, and nobody has said yet
 * that they may be.
 * @param programme the lesson's; null before it is known
 */
export function playableOf(open: OpenLesson | null, programme: Programme | null): Playable | null {
  if (open === null || open.isHeld || open.chart === null || programme === null) return null;
  const { id, chart, choices } = open;
  return { lessonId: id, chart, choices, programme };
}
