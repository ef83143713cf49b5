import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { midiOf, pitchClassOf, setOfChord, containsClass, formatPitch, type Pitch } from '../../theory/index.ts';
import type { HandNote } from '../note.ts';

/** A silence that parts phrases in this check: a quarter note. */
const BREATH_TICKS = 960;
const GRID_TICKS = 480;

const isChordTone = ({ analysed }: PlannedSlot, pitch: Pitch): boolean =>
  analysed.chord !== null && containsClass(setOfChord(analysed.chord), pitchClassOf(pitch.name));

const isAvoid = ({ chordScale }: PlannedSlot, pitch: Pitch): boolean =>
  chordScale?.avoid.some((each) => pitchClassOf(each.note) === pitchClassOf(pitch.name)) ?? false;

/**
 * What a chorus does against its rules, stated anew from the issue of it rather than from how it was made; empty where it
 * keeps them. Each fault names the note and its tick.
 */
export function chorusFaults(plan: Plan, chorus: readonly HandNote[]): string[] {
  const faults: string[] = [];
  const say = (note: HandNote, what: string): void => {
    faults.push(`${formatPitch(note.pitch)} at ${note.startTicks}: ${what}`);
  };
  const end = plan.slots.at(-1)?.analysed.played.endTicks ?? 0;
  chorus.forEach((note, index) => {
    const slot = plan.slots[note.slotIndex];
    if (slot === undefined) return say(note, 'belongs to no slot');
    const { startTicks, endTicks } = slot.analysed.played;
    const next = chorus[index + 1];
    const stops = note.startTicks + note.durationTicks;

    if (note.startTicks % GRID_TICKS !== 0 || note.durationTicks % GRID_TICKS !== 0)
      say(note, 'is off the eighth grid');
    if (note.startTicks < 0 || stops > end) say(note, 'lies outside the form');
    if (next !== undefined && next.startTicks < stops) say(note, 'overlaps the next');
    const early = note.startTicks === startTicks - GRID_TICKS;
    if (!early && (note.startTicks < startTicks || note.startTicks >= endTicks)) say(note, 'is not in its slot');

    if (slot.position === null || slot.thumbMidi === null) return say(note, 'is played where the hand rests');
    if (note.position !== slot.position) say(note, "is not in the route's position");
    const key = slot.thumbMidi + (slot.position.shape.steps[note.finger - 1] as number);
    if (midiOf(note.pitch) !== key) say(note, `is not under finger ${note.finger}`);
    if (note.pitch.name !== slot.position.notes[note.finger - 1]) say(note, "is not spelled as its position's note");

    const endsPhrase = next === undefined || next.startTicks - stops >= BREATH_TICKS;
    if (endsPhrase && !isChordTone(slot, note.pitch)) say(note, 'ends a phrase and is no chord tone');
    if (isAvoid(slot, note.pitch)) {
      const goal = next === undefined ? undefined : plan.slots[next.slotIndex];
      const interval = next === undefined ? 0 : Math.abs(midiOf(next.pitch) - midiOf(note.pitch));
      const resolves =
        next !== undefined &&
        goal !== undefined &&
        next.startTicks === stops &&
        (interval === 1 || interval === 2) &&
        isChordTone(goal, next.pitch);
      if (!resolves) say(note, 'is an avoid note and does not resolve by step to a chord tone');
    }
    const [second, third] = [chorus[index + 1], chorus[index + 2]];
    if (second !== undefined && third !== undefined) {
      const keys = new Set([note, second, third].map((each) => midiOf(each.pitch)));
      if (keys.size === 1 && third.startTicks - stops < 2 * BREATH_TICKS) say(note, 'is played three times in a row');
    }
    return undefined;
  });
  return faults;
}
