import type { Chart, Choices, DrillOrder, Programme } from '@fivespan/core';
import type { OpenLesson } from '../open-lesson/index.ts';

/** What is to be played. */
export interface Playable {
  readonly lessonId: string;
  readonly chart: Chart;
  readonly choices: Choices;
  readonly programme: Programme;
  /** Played in the tune's place. */
  readonly drill?: DrillOrder;
  /** A take that is heard with it, as core writes takes. */
  readonly take?: string;
}

/**
 * What can be played of a lesson. Nothing while it is held: its notes would be another music engine's, and nobody has said yet
 * that they may be.
 * @param programme the lesson's; null before it is known
 * @param drill what is played in the tune's place; null for the tune
 */
export function playableOf(
  open: OpenLesson | null,
  programme: Programme | null,
  drill: DrillOrder | null = null,
): Playable | null {
  if (open === null || open.isHeld || open.chart === null || programme === null) return null;
  const { id, chart, choices } = open;
  return { lessonId: id, chart, choices, programme, ...(drill === null ? {} : { drill }) };
}

function isEqual(a: unknown, b: unknown): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

/**
 * Whether both would be played the same. By value: a lesson that is looked at again on the disk, or has just been kept, is told
 * anew, and what plays goes on.
 */
export function isSamePlayable(a: Playable, b: Playable): boolean {
  return (
    a.lessonId === b.lessonId &&
    isEqual(a.chart, b.chart) &&
    isEqual(a.choices, b.choices) &&
    isEqual(a.programme, b.programme) &&
    isEqual(a.drill, b.drill) &&
    a.take === b.take
  );
}
