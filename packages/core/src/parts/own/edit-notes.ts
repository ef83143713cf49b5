import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { containsClass, midiOf, pitchClass, setOfNotes, type PitchClassSet } from '../../theory/index.ts';
import type { PartNote } from '../note.ts';
import { SHORTEST_PINNED_TICKS, type LineId, type NotePin, type PinnedNote } from './note-pin.ts';

/** Keys that a note may be moved to: a piano's. */
const LOWEST = 21;
const HIGHEST = 108;

/** Length of a note that is put into a silence: an eighth. */
const ADDED_TICKS = 480;

/**
 * What is written in a line over one chord now, composed or not, as a teacher's own: what begins there, in time order.
 * @throws RangeError where the plan has no such slot
 */
export function pinOfStretch({ slots }: Plan, part: LineId, line: readonly PartNote[], slotIndex: number): NotePin {
  const slot = slots[slotIndex];
  if (slot === undefined) throw new RangeError(`slotIndex must be a slot of the plan, not ${slotIndex}`);
  const { startTicks, endTicks, slot: written, playedBar } = slot.analysed.played;
  const notes = line
    .filter((note) => note.startTicks >= startTicks && note.startTicks < endTicks)
    .map((note): PinnedNote => ({
      onsetTicks: note.startTicks - startTicks,
      durationTicks: note.durationTicks,
      key: midiOf(note.pitch),
    }));
  return { part, slot: written.id, pass: playedBar.pass, over: written.chord.symbol, notes };
}

/** The sounds a note steps through over a chord: its chord-scale's, all twelve where there is none. */
function soundsOf({ chordScale }: PlannedSlot): PitchClassSet {
  return chordScale === null ? (0xfff as PitchClassSet) : setOfNotes(chordScale.notes);
}

/**
 * The key a step of the chord-scale up or down from another.
 * @param steps steps of the scale, down where negative
 * @returns the same key at the keyboard's end
 */
export function keyByStep(slot: PlannedSlot, key: number, steps: number): number {
  const sounds = soundsOf(slot);
  const way = Math.sign(steps);
  let [at, left] = [key, Math.abs(steps)];
  while (left > 0) {
    let next = at + way;
    while (next >= LOWEST && next <= HIGHEST && !containsClass(sounds, pitchClass(next % 12))) next += way;
    if (next < LOWEST || next > HIGHEST) break;
    at = next;
    left--;
  }
  return at;
}

/** What can be done to one of a stretch's notes. */
export type NoteEdit =
  | { readonly kind: 'move'; readonly key: number }
  | { readonly kind: 'last'; readonly durationTicks: number }
  | { readonly kind: 'take out' }
  | { readonly kind: 'add'; readonly key: number };

/** Where a stretch is. */
export interface StretchRoom {
  /** The chord's length. */
  readonly lengthTicks: number;
  /** To the end of the form, from the chord's start. */
  readonly mostTicks: number;
}

/** A stretch's notes after an edit, and the onset of the note to go on with; null where none is left. */
export interface EditedNotes {
  readonly notes: readonly PinnedNote[];
  readonly onsetTicks: number | null;
}

/** A longer note covers what begins while it sounds: those notes go. */
function lasting(notes: readonly PinnedNote[], index: number, durationTicks: number, mostTicks: number): PinnedNote[] {
  const note = notes[index] as PinnedNote;
  const most = mostTicks - note.onsetTicks;
  const longer = { ...note, durationTicks: Math.max(SHORTEST_PINNED_TICKS, Math.min(durationTicks, most)) };
  const end = longer.onsetTicks + longer.durationTicks;
  const rest = notes.slice(index + 1).flatMap((each): PinnedNote[] => (each.onsetTicks < end ? [] : [each]));
  return [...notes.slice(0, index), longer, ...rest];
}

/** A note after another: in the silence that follows it, else in the second half of its time. */
function added(
  notes: readonly PinnedNote[],
  index: number,
  key: number,
  { lengthTicks }: StretchRoom,
): EditedNotes | undefined {
  const before = notes[index];
  const from = before === undefined ? 0 : before.onsetTicks + before.durationTicks;
  const to = notes[index + 1]?.onsetTicks ?? lengthTicks;
  if (to - from >= SHORTEST_PINNED_TICKS) {
    const note = { onsetTicks: from, durationTicks: Math.min(ADDED_TICKS, to - from), key };
    return { notes: [...notes.slice(0, index + 1), note, ...notes.slice(index + 1)], onsetTicks: from };
  }
  const half = before === undefined ? 0 : Math.floor(before.durationTicks / 2);
  if (before === undefined || half < SHORTEST_PINNED_TICKS || before.onsetTicks + half >= lengthTicks) return undefined;
  const note = { onsetTicks: before.onsetTicks + half, durationTicks: before.durationTicks - half, key };
  const halved = { ...before, durationTicks: half };
  return { notes: [...notes.slice(0, index), halved, note, ...notes.slice(index + 1)], onsetTicks: note.onsetTicks };
}

/**
 * A stretch's notes with one of them changed.
 * @param index which of them; −1 for the chord's start, where a note can be added
 * @returns undefined where nothing can be done: there is no such note, no such key, or no room
 * @example editNotes([], -1, { kind: 'add', key: 60 }, { lengthTicks: 3840, mostTicks: 3840 })?.notes.length // → 1
 */
export function editNotes(
  notes: readonly PinnedNote[],
  index: number,
  edit: NoteEdit,
  room: StretchRoom,
): EditedNotes | undefined {
  if ((edit.kind === 'move' || edit.kind === 'add') && (edit.key < LOWEST || edit.key > HIGHEST)) return undefined;
  if (edit.kind === 'add') return added(notes, index, edit.key, room);
  const note = notes[index];
  if (note === undefined) return undefined;
  switch (edit.kind) {
    case 'move':
      return { notes: notes.with(index, { ...note, key: edit.key }), onsetTicks: note.onsetTicks };
    case 'last':
      return { notes: lasting(notes, index, edit.durationTicks, room.mostTicks), onsetTicks: note.onsetTicks };
    case 'take out': {
      const left = notes.filter((_, at) => at !== index);
      return { notes: left, onsetTicks: (left[index] ?? left.at(-1))?.onsetTicks ?? null };
    }
  }
}
