import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { midiOf } from '../../theory/index.ts';
import type { PartNote } from '../note.ts';
import type { LineId } from './note-pin.ts';
import type { PlacedNote } from './own-reason.ts';
import { namedNotes, type NamedOwnNote, type OwnStretch } from './own-stretch.ts';

/** A line with room made for what a teacher wrote in it. */
export interface JoinedLine<Note> {
  /** The composed notes that stay, some of them shorter. */
  readonly composed: readonly Note[];
  /** The teacher's notes, a list a stretch. */
  readonly own: readonly (readonly NamedOwnNote[])[];
}

/**
 * Makes room in a composed line: what begins in a stretch that the teacher wrote goes, what sounds into it ends with its first
 * note, what would begin while the teacher's last note sounds goes too. A teacher's note ends where the teacher's next begins.
 */
export function joinLine<Note extends PartNote>(
  plan: Plan,
  part: LineId,
  composed: readonly Note[],
  stretches: readonly OwnStretch[],
): JoinedLine<Note> {
  const cut = stretches.map((stretch, index) => {
    const following = stretches.slice(index + 1).find(({ notes }) => notes.length > 0)?.notes[0];
    const notes = stretch.notes.map((note) => ({
      ...note,
      durationTicks: Math.min(
        note.durationTicks,
        (following?.startTicks ?? Number.POSITIVE_INFINITY) - note.startTicks,
      ),
    }));
    return { ...stretch, notes };
  });
  const all = cut.flatMap(({ notes }) => notes);
  const kept = composed.flatMap((note): Note[] => {
    const { startTicks, durationTicks } = note;
    const isWritten = cut.some((each) => each.startTicks <= startTicks && startTicks < each.endTicks);
    const isUnder = all.some(
      (each) => each.startTicks <= startTicks && startTicks < each.startTicks + each.durationTicks,
    );
    if (isWritten || isUnder) return [];
    const next = all.find((each) => each.startTicks > startTicks);
    const longest = (next?.startTicks ?? Number.POSITIVE_INFINITY) - startTicks;
    return [durationTicks > longest ? { ...note, durationTicks: longest } : note];
  });
  const placed = (note: Note): PlacedNote => ({
    key: midiOf(note.pitch),
    name: note.pitch.name,
    slot: plan.slots[note.slotIndex] as PlannedSlot,
  });
  const own: NamedOwnNote[][] = [];
  let after: { readonly note: PlacedNote; readonly startTicks: number } | undefined;
  for (const stretch of cut.toReversed()) {
    const last = stretch.notes.at(-1);
    const end = last === undefined ? Number.NaN : last.startTicks + last.durationTicks;
    const next = kept.find(({ startTicks }) => startTicks === end);
    const follows = after?.startTicks === end ? after.note : next === undefined ? undefined : placed(next);
    const named = namedNotes(plan, part, stretch, follows);
    own.unshift(named);
    const [first] = named;
    if (first !== undefined) {
      const slot = plan.slots[first.slotIndex] as PlannedSlot;
      after = { note: { key: first.key, name: first.name, slot }, startTicks: first.startTicks };
    }
  }
  return { composed: kept, own };
}
