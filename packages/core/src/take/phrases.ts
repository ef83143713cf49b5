import { sounds } from './course.ts';
import type { PlacedNote } from './heard-line.ts';

/** A run of notes between two breaths. */
export interface HeardPhrase {
  readonly notes: readonly PlacedNote[];
  readonly startTicks: number;
  /** Where its last note ends. */
  readonly endTicks: number;
  readonly lowest: number;
  readonly highest: number;
  readonly landsOnChordTone: boolean;
  /** The index of an earlier phrase that begins with the same steps in the same rhythm; null where none does. */
  readonly comesBackFrom: number | null;
}

/** A silence of this many pulses is a breath, if it also lasts a fifth of a second. Our own: an eighth and a little. */
const BREATH_PULSES = 0.6;
const BREATH_SECONDS = 0.2;

/** Notes of an opening that make a motive: three steps. */
const MOTIVE_NOTES = 4;

/** The steps and the rhythm that a phrase begins with; null where it is too short. */
function motiveOf(notes: readonly PlacedNote[]): string | null {
  if (notes.length < MOTIVE_NOTES) return null;
  return notes
    .slice(1, MOTIVE_NOTES)
    .map(({ key, ticks }, index) => {
      const before = notes[index] as PlacedNote;
      return `${Math.sign(key - before.key) * Math.min(3, Math.ceil(Math.abs(key - before.key) / 2))}/${ticks - before.ticks}`;
    })
    .join(' ');
}

/**
 * A line's phrases, parted by its breaths.
 * @param line one note at a time, in order
 */
export function phrasesOf(line: readonly PlacedNote[], pulseTicks: number, pulseSeconds: number): HeardPhrase[] {
  const breath = Math.max(BREATH_PULSES, BREATH_SECONDS / pulseSeconds);
  const groups: PlacedNote[][] = [];
  for (const note of line) {
    const before = groups.at(-1)?.at(-1);
    if (before !== undefined && before.toNextPulses - before.lengthPulses < breath) groups.at(-1)?.push(note);
    else groups.push([note]);
  }
  const motives = new Map<string, number>();
  return groups.map((notes, index) => {
    const [first, last] = [notes[0] as PlacedNote, notes.at(-1) as PlacedNote];
    const keys = notes.map(({ key }) => key);
    const motive = motiveOf(notes);
    const comesBackFrom = motive === null ? null : (motives.get(motive) ?? null);
    if (motive !== null && comesBackFrom === null) motives.set(motive, index);
    return {
      notes,
      startTicks: first.ticks,
      endTicks: last.ticks + last.lengthPulses * pulseTicks,
      lowest: Math.min(...keys),
      highest: Math.max(...keys),
      landsOnChordTone: sounds(last.slot.chordTones, last.key),
      comesBackFrom,
    };
  });
}
