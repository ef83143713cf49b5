import { SHORTEST_PINNED_TICKS, type PinnedNote } from './note-pin.ts';

/** What is written over a chord, with the chord's place in the form. */
export interface TimedStretch {
  readonly startTicks: number;
  readonly endTicks: number;
  readonly notes: readonly PinnedNote[];
}

/** Stretches after a note was moved in time, and where the note begins now. */
export interface ShiftedNote {
  readonly stretches: readonly TimedStretch[];
  readonly startTicks: number;
}

/**
 * Moves a note earlier or later, over a change of chord too. The note before it ends where it begins now, it ends where the next one
 * begins; none is passed by.
 * @param stretches neighbours in time order: those the note may go to
 * @param startTicks where it begins, counted from the first full bar
 * @returns undefined where there is no such note, or no room
 */
export function shiftNote(
  stretches: readonly TimedStretch[],
  startTicks: number,
  byTicks: number,
): ShiftedNote | undefined {
  const all = stretches.flatMap((stretch) =>
    stretch.notes.map((note) => ({ ...note, onsetTicks: stretch.startTicks + note.onsetTicks })),
  );
  const index = all.findIndex(({ onsetTicks }) => onsetTicks === startTicks);
  const [before, note, next] = [all[index - 1], all[index], all[index + 1]];
  const [from, to] = [stretches[0]?.startTicks ?? 0, stretches.at(-1)?.endTicks ?? 0];
  const start = startTicks + byTicks;
  if (index < 0 || note === undefined || start < from || start >= to) return undefined;
  const least = before === undefined ? from : before.onsetTicks + SHORTEST_PINNED_TICKS;
  // the last stretch's notes may sound on after it; a note that is moved there does not
  const most = next?.onsetTicks ?? Math.max(to, note.onsetTicks + note.durationTicks);
  const durationTicks = Math.min(note.durationTicks, most - start);
  if (start < least || durationTicks < SHORTEST_PINNED_TICKS) return undefined;
  all[index] = { ...note, onsetTicks: start, durationTicks };
  if (before !== undefined) {
    all[index - 1] = { ...before, durationTicks: Math.min(before.durationTicks, start - before.onsetTicks) };
  }
  return {
    startTicks: start,
    stretches: stretches.map((stretch) => ({
      ...stretch,
      notes: all
        .filter(({ onsetTicks }) => onsetTicks >= stretch.startTicks && onsetTicks < stretch.endTicks)
        .map((each) => ({ ...each, onsetTicks: each.onsetTicks - stretch.startTicks })),
    })),
  };
}
