import type { Analysis } from '../analysis/index.ts';
import { midiOf, pitchClassOf } from '../theory/index.ts';
import { HIGHEST_BASS, LOWEST_BASS } from './bass-line.ts';
import type { BassNote } from './note.ts';

/** Ways into a goal in semitones: half and whole steps, and the goal's dominant from below or above. Common practice. */
const WAYS_IN: ReadonlySet<number> = new Set([1, -1, 2, -2, 5, -7]);

/**
 * Every rule of the walking bass that notes break: inside its chord and the range, a chord begins on its root or written bass, no
 * pitch twice running across a bar line, an approach leads into what follows. Written from the rules, not from the search.
 */
export function bassFaults({ slots }: Analysis, notes: readonly BassNote[]): string[] {
  return notes.flatMap((note, index): string[] => {
    const slot = slots[note.slotIndex];
    const at = `bass note ${index + 1}`;
    if (slot === undefined || slot.chord === null) return [`${at} belongs to no chord`];
    const { played, chord } = slot;
    const faults: string[] = [];
    const key = midiOf(note.pitch);
    if (note.startTicks < played.startTicks || note.startTicks + note.durationTicks > played.endTicks)
      faults.push(`${at} leaves its chord`);
    if (key < LOWEST_BASS || key > HIGHEST_BASS) faults.push(`${at} is out of range`);
    const ground = pitchClassOf(chord.bass ?? chord.root);
    if (note.startTicks === played.startTicks && key % 12 !== ground) faults.push(`${at} does not begin on the root`);
    const next = notes[index + 1];
    if (next === undefined || next.startTicks !== note.startTicks + note.durationTicks) return faults;
    if (
      midiOf(next.pitch) === key &&
      next.startTicks === played.playedBar.startTicks + played.playedBar.bar.durationTicks
    )
      faults.push(`${at} stands still across the bar line`);
    if (note.function === 'approach' && next.slotIndex !== note.slotIndex && !WAYS_IN.has(midiOf(next.pitch) - key))
      faults.push(`${at} leads nowhere`);
    return faults;
  });
}
