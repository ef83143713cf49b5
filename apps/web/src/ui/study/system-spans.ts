import { playedBarAt, type Lesson } from '@fivespan/core';
import { tracedNote } from '../../features/engraving/index.ts';

/** What an engraved system holds. */
export interface SystemSpan {
  readonly fromBar: number;
  readonly toBar: number;
  readonly startTicks: number;
  /** Where the next system begins, or the music ends. */
  readonly endTicks: number;
}

/** The bars of each system, read from the notes in it; a system of rests goes on with the one before. */
export function systemSpans(lesson: Lesson, systems: readonly string[]): readonly SystemSpan[] {
  const { form } = lesson.analysis;
  const ends = systems.map((svg) => {
    const starts = [...svg.matchAll(/data-note="([^"]+)"/gu)].flatMap(([, id]) => {
      const note = tracedNote(lesson, id ?? '');
      return note === undefined ? [] : [note.written.startTicks];
    });
    return { first: Math.min(...starts), last: Math.max(...starts) };
  });
  const begins: number[] = [];
  for (const [index, { first }] of ends.entries()) {
    const before = begins[index - 1] ?? form.bars[0]?.startTicks ?? 0;
    begins.push(index === 0 || !Number.isFinite(first) ? before : playedBarAt(form, first).startTicks);
  }
  return ends.map(({ last }, index) => {
    const startTicks = begins[index] as number;
    const endTicks = begins[index + 1] ?? lesson.score.endTicks;
    // a piece of a tied note may lie in the system after its own
    const lastIn = Number.isFinite(last) ? Math.max(startTicks, Math.min(last, endTicks - 1)) : startTicks;
    return {
      fromBar: playedBarAt(form, startTicks).bar.number,
      toBar: playedBarAt(form, lastIn).bar.number,
      startTicks,
      endTicks,
    };
  });
}
