import { chordToneDegrees, type Analysis } from '../../analysis/index.ts';
import type { Plan } from '../../plan/index.ts';
import {
  accidentalsOf,
  formatNoteName,
  guideTonesOf,
  midiOf,
  noteAbove,
  pitchClassOf,
  semitonesOf,
  stepOf,
  type Chord,
  type NoteName,
} from '../../theory/index.ts';
import { isClear } from './low-interval.ts';
import type { VoicingNote } from './voicing-notes.ts';

/** The widest a hand stretches in a voicing, in semitones: an octave. Common practice. */
const WIDEST_HAND = 12;

/** Semitones above the root at which the chord writes a 9, 11 or 13, by letter distance. */
function writtenOn(chord: Chord, step: number): number[] {
  return chord.degrees.filter((each) => stepOf(each) === step).map(semitonesOf);
}

/** Which tension a sound above the root is taken for: ♭9 9 ♯9, 11 ♯11, ♭13 13; chord tones are none. Common practice. */
const TENSION_STEP: Readonly<Record<number, number>> = { 1: 1, 2: 1, 3: 1, 5: 3, 6: 3, 8: 5, 9: 5 };

/** A note beside a written alteration of the same tension: a plain 9 where the symbol says ♭9. */
function clashes(chord: Chord, name: NoteName): boolean {
  const semitones = (pitchClassOf(name) - pitchClassOf(chord.root) + 12) % 12;
  if (chord.degrees.some((each) => semitonesOf(each) === semitones)) return false;
  const step = TENSION_STEP[semitones];
  return step !== undefined && writtenOn(chord, step).length > 0;
}

/**
 * Every rule of the voicings that one hand's notes break. Written from the rules, not from the search: each chord begins and ends with its
 * slot, ascends, is in one hand, is clear in its low intervals, holds a guide tone (the left hand, where the chord has one
 * or stands on its root), and takes nothing but chord tones, the written bass, and chord tones
 * and tensions of a chord-scale of the slot that no written alteration forbids.
 */
export function voicingFaults(
  { analysis, plan }: { readonly analysis: Analysis; readonly plan: Plan },
  notes: readonly VoicingNote[],
): string[] {
  const bySlot = new Map<number, VoicingNote[]>();
  for (const note of notes) bySlot.set(note.slotIndex, [...(bySlot.get(note.slotIndex) ?? []), note]);
  return [...bySlot].flatMap(([index, chordNotes]): string[] => {
    const slot = analysis.slots[index];
    const at = `chord ${index + 1}`;
    if (slot?.chord == null) return [`${at} is none`];
    const { chord, played, chordScales } = slot;
    const faults: string[] = [];
    const add = (isFault: boolean, what: string): void => {
      if (isFault) faults.push(`${at}, ${chord.symbol}: ${what}`);
    };
    const keys = chordNotes.map(({ pitch }) => midiOf(pitch));
    const [lowest, highest] = [keys[0] ?? 0, keys.at(-1) ?? 0];
    add(
      chordNotes.some(
        ({ startTicks, durationTicks }) =>
          startTicks !== played.startTicks || startTicks + durationTicks !== played.endTicks,
      ),
      'does not last as long as its chord',
    );
    add(
      keys.some((key, place) => place > 0 && key <= (keys[place - 1] as number)),
      'does not ascend',
    );
    // what a teacher wrote is told where it is written
    if (chordNotes.some(({ own: isOwn }) => isOwn === true)) return faults;
    add(highest - lowest > WIDEST_HAND, 'is wider than a hand');
    add(!isClear(keys), 'lies below a low-interval limit');
    const sounds = new Set(chordNotes.map(({ pitch }) => pitchClassOf(pitch.name)));
    const guides = guideTonesOf(chord).map((each) => pitchClassOf(noteAbove(chord.root, each)));
    const holdsOne = guides.length === 0 || guides.some((each) => sounds.has(each));
    const isPartOfTwo = chordNotes.some(({ form }) => form.startsWith('two hands') || form === 'upper structure');
    add(!holdsOne && !isPartOfTwo, 'holds no guide tone');
    const scales = [plan.slots[index]?.chordScale ?? null, ...chordScales].filter((each) => each !== null);
    const own = chordToneDegrees(chord).map((each) => pitchClassOf(noteAbove(chord.root, each)));
    for (const { pitch } of chordNotes) {
      const sound = pitchClassOf(pitch.name);
      // a written bass is a note of the symbol too: D♭ in A♭dim7/D♭
      const isBass = chord.bass !== null && pitchClassOf(chord.bass) === sound;
      const isWritten = isBass || chord.degrees.some((each) => pitchClassOf(noteAbove(chord.root, each)) === sound);
      // a slash chord heard on its bass has that chord's tones: F♭ in F♯m6/C♭, a C♭9sus
      const isColour = scales.some(({ tensions, chordTones }) =>
        [...tensions, ...chordTones].some((each) => pitchClassOf(each) === sound),
      );
      const name = formatNoteName(pitch.name);
      add(!own.includes(sound) && !isWritten && !isColour, `${name} is no chord tone and no tension`);
      add(!isBass && clashes(chord, pitch.name), `${name} clashes with a written alteration`);
      add(Math.abs(accidentalsOf(pitch.name)) > 1 && !isWritten, `${name} has a double accidental`);
    }
    return faults;
  });
}
