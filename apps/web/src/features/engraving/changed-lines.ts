import type { Score, ScoreNote, ScoreStaff } from '@fivespan/core';
import { scoreNoteId, scoreNoteOf } from '@fivespan/formats/musicxml';

/** A line of what is shown: its bars of the score by index, `to` exclusive, and its time. */
export interface EngravedLine {
  readonly bars: { readonly from: number; readonly to: number };
  readonly startTicks: number;
  readonly endTicks: number;
}

const lies = (startTicks: number, endTicks: number, line: EngravedLine): boolean =>
  startTicks < line.endTicks && endTicks > line.startTicks;

/** Everything of a score that is drawn in a line, as a text: what sounds into it, tied, too. */
function drawnIn(score: Score, parts: readonly ScoreStaff['role'][], line: EngravedLine): string {
  const within = ({ startTicks }: { readonly startTicks: number }): boolean =>
    startTicks >= line.startTicks && startTicks < line.endTicks;
  return JSON.stringify([
    score.bars.slice(line.bars.from, line.bars.to),
    score.chords.filter(within),
    score.thumbs.filter(within),
    score.phrases.filter(({ startTicks, endTicks }) => lies(startTicks, endTicks, line)),
    score.staves
      .filter(({ role }) => parts.includes(role))
      .map(({ notes }) =>
        notes.filter(({ startTicks, durationTicks }) => lies(startTicks, startTicks + durationTicks, line)),
      ),
  ]);
}

/**
 * The lines of an earlier score in which a later one is another.
 * @param lines those that are shown, in order
 * @returns their places; undefined where the two are not of one form
 */
export function changedLines(
  before: Score,
  after: Score,
  parts: readonly ScoreStaff['role'][],
  lines: readonly EngravedLine[],
): readonly number[] | undefined {
  const isSameForm = before.endTicks === after.endTicks && before.bars.length === after.bars.length;
  if (!isSameForm || before.staves.length !== after.staves.length) return undefined;
  return lines.flatMap((line, index) => (drawnIn(before, parts, line) === drawnIn(after, parts, line) ? [] : [index]));
}

const countBefore = (notes: readonly ScoreNote[], ticks: number): number =>
  notes.filter(({ startTicks }) => startTicks < ticks).length;

/**
 * The pictures of an earlier score with some lines drawn anew. The notes of the others are named by their places in the new score,
 * which a note more or less before them has moved.
 * @param made the new picture of a line by its place
 */
export function withLines(
  systems: readonly string[],
  lines: readonly EngravedLine[],
  made: ReadonlyMap<number, string>,
  before: Score,
  after: Score,
): string[] {
  return systems.map((svg, index) => {
    const drawn = made.get(index);
    const line = lines[index];
    if (drawn !== undefined || line === undefined) return drawn ?? svg;
    const moved = after.staves.map(
      ({ notes }, staff) =>
        countBefore(notes, line.startTicks) - countBefore(before.staves[staff]?.notes ?? [], line.startTicks),
    );
    if (moved.every((by) => by === 0)) return svg;
    return svg.replaceAll(/(?<=data-note=")(note-\d+-\d+-)(\d+)(?=")/gu, (id, _, piece: string) => {
      const place = scoreNoteOf(id);
      const by = place === undefined ? 0 : (moved[place.staff] ?? 0);
      return place === undefined || by === 0 ? id : scoreNoteId(place.staff, place.note + by, Number(piece));
    });
  });
}
