import { partOnStaff, type Lesson, type Reason, type ScoreNote, type ScoreStaff } from '@fivespan/core';
import { scoreNoteOf } from '@fivespan/formats/musicxml';

/** A written note with where it comes from. */
export interface TracedNote {
  readonly role: ScoreStaff['role'];
  readonly written: ScoreNote;
  /** Index of the played slot it belongs to. */
  readonly slotIndex: number;
  readonly why: Reason;
}

/**
 * The note of a lesson that an engraved one is.
 * @param id as the picture has it in `data-note`
 * @returns undefined where the lesson has no such note
 */
export function tracedNote(lesson: Lesson, id: string): TracedNote | undefined {
  const place = scoreNoteOf(id);
  const staff = place === undefined ? undefined : lesson.score.staves[place.staff];
  if (place === undefined || staff === undefined) return undefined;
  const written = staff.notes[place.note];
  const source = lesson[partOnStaff(staff.role).id][place.note];
  if (written === undefined || source === undefined) return undefined;
  return { role: staff.role, written, slotIndex: source.slotIndex, why: source.why };
}
