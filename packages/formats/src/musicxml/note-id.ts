/** A note of the score: its staff among the score's and its place in that staff, both from 0. */
export interface ScoreNotePlace {
  readonly staff: number;
  readonly note: number;
}

/**
 * The id a note's element has in MusicXML, where ids are asked for (`noteIds`). A note that is written in several tied
 * pieces has one id for each.
 * @example scoreNoteId(0, 12, 1) // → 'note-0-12-1'
 */
export function scoreNoteId(staff: number, note: number, piece: number): string {
  return `note-${staff}-${note}-${piece}`;
}

/**
 * The note an id names.
 * @returns undefined where it names none.
 * @example scoreNoteOf('note-0-12-1') // → { staff: 0, note: 12 }
 */
export function scoreNoteOf(id: string): ScoreNotePlace | undefined {
  const [, staff, note] = /^note-(\d+)-(\d+)-\d+$/u.exec(id) ?? [];
  return staff === undefined || note === undefined ? undefined : { staff: Number(staff), note: Number(note) };
}
