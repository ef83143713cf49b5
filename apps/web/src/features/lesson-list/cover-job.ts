import {
  barsOf,
  groundOf,
  planRoute,
  readChart,
  readLessonDocument,
  routeOptionsOf,
  type Midi,
  type NoteName,
  type PlannedSlot,
  type Position,
} from '@fivespan/core';
import { markOf, shapeMarks } from '@fivespan/formats/diagram';
import { BARS } from './first-bars.ts';
import type { Job } from '../../platform/workers/index.ts';

/** What is seen of a lesson on the shelf: where the hand begins, and where the thumb goes from there. */
export interface Cover {
  readonly position: Position;
  readonly thumbMidi: Midi;
  /** The sign of its shape, where the lesson has several. */
  readonly mark: string;
  /** The symbols of its first bars in the key it is shown in, where that is not the one it is written in; else null. */
  readonly bars: readonly (readonly string[])[] | null;
  /** The first thumb that is another; null where it stays. */
  readonly next: { readonly name: NoteName; readonly midi: Midi; readonly mark: string } | null;
}

/** The cover of a lesson; null where its chart cannot be read, or no hand is placed in it. */
export function coverOf(document: string): Cover | null {
  const lesson = readLessonDocument(document);
  const chart = lesson.ok ? readChart(lesson.value.chartText) : lesson;
  if (!lesson.ok || !chart.ok) return null;
  const { choices } = lesson.value;
  const { chart: shown, analysis, pins } = groundOf(chart.value, choices, null);
  const plan = planRoute(analysis, routeOptionsOf(analysis, choices, pins));
  const placed = plan.slots.filter((slot): slot is PlannedSlot & { position: Position; thumbMidi: Midi } => {
    return slot.position !== null && slot.thumbMidi !== null;
  });
  const [first] = placed;
  if (first === undefined) return null;
  const { position, thumbMidi } = first;
  const next = placed.find((slot) => slot.thumbMidi !== thumbMidi);
  const marks = shapeMarks({ plan });
  const mark = markOf(marks, position.shape);
  return {
    position,
    thumbMidi,
    mark,
    bars:
      shown === chart.value
        ? null
        : barsOf(shown)
            .slice(0, BARS)
            .map(({ slots }) => slots.map(({ chord }) => chord.symbol)),
    next:
      next === undefined
        ? null
        : { name: next.position.thumb, midi: next.thumbMidi, mark: markOf(marks, next.position.shape) },
  };
}

/** Computes a lesson's cover. */
export const coverJob: Job<string, Cover | null> = async (document) => ({ value: coverOf(document) });
