import { beatTicksOf } from '../chart/index.ts';
import type { Plan } from '../plan/index.ts';
import { midiOf } from '../theory/index.ts';
import type { HandNote } from './note.ts';

/**
 * Every rule of the arpeggio study that notes break: each inside its slot, under its finger's note, no key twice running, and
 * what rubs off the beat. Written from the rules, not from the search.
 */
export function arpeggioFaults(plan: Plan, notes: readonly HandNote[]): string[] {
  return notes.flatMap((note, index): string[] => {
    const played = plan.slots[note.slotIndex]?.analysed.played;
    const at = `note ${index + 1}`;
    if (played === undefined) return [`${at} belongs to no chord`];
    const faults: string[] = [];
    if (note.startTicks < played.startTicks || note.startTicks + note.durationTicks > played.endTicks)
      faults.push(`${at} leaves its chord`);
    if (note.pitch.name !== note.position.notes[note.finger - 1]) faults.push(`${at} lies under another finger`);
    const before = notes[index - 1];
    if (before?.slotIndex === note.slotIndex && midiOf(before.pitch) === midiOf(note.pitch))
      faults.push(`${at} repeats a key`);
    const { playedBar } = played;
    const isOnBeat = (note.startTicks - playedBar.startTicks) % beatTicksOf(playedBar.bar.meter) === 0;
    if (isOnBeat && note.why.code === 'arpeggio.passing') faults.push(`${at} rubs on the beat`);
    return faults;
  });
}
