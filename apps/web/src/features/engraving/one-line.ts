import type { Score } from '@fivespan/core';
import { scoreNoteId, scoreNoteOf } from '@fivespan/formats/musicxml';

/** One of the lines that are shown, and its bars of the score by index, `to` exclusive. */
export interface EngravedLine {
  readonly system: number;
  readonly bars: { readonly from: number; readonly to: number };
}

/**
 * The lines of an earlier score with one of them drawn anew. The notes of later lines are named by their places in the new score,
 * which a note more or less has moved.
 * @param made the pictures that take the line's place
 */
export function withLine(
  systems: readonly string[],
  line: EngravedLine,
  made: readonly string[],
  before: Score,
  after: Score,
): string[] {
  const moved = after.staves.map(({ notes, role }) => {
    const was = before.staves.find((each) => each.role === role);
    return notes.length - (was?.notes.length ?? notes.length);
  });
  const later = systems.slice(line.system + 1).map((svg) =>
    svg.replaceAll(/(?<=data-note=")(note-\d+-\d+-)(\d+)(?=")/gu, (id, _, piece: string) => {
      const place = scoreNoteOf(id);
      const by = place === undefined ? 0 : (moved[place.staff] ?? 0);
      return place === undefined || by === 0 ? id : scoreNoteId(place.staff, place.note + by, Number(piece));
    }),
  );
  return [...systems.slice(0, line.system), ...made, ...later];
}
