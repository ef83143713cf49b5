import { midiOf, type ScoreNote } from '@fivespan/core';
import { element, type XmlElement } from './xml.ts';

/** From here up a note lies over three ledger lines of the treble clef or more: E6. */
const OVER_LEDGERS = 88;
/** An octave lower it must still lie on the staff's lowest line or over it: E5. */
const LOWEST_IN_SHIFT = 76;
/** One high note is read by its ledger lines; a passage has two or more. Common practice. */
const FEWEST_HIGH = 2;
/** A silence of a bar of four ends a passage. Our own. */
const LONGEST_SILENCE_TICKS = 3840;

/** A passage that is written an octave lower under an 8va line. Ticks of the score. */
export interface OctaveShift {
  readonly startTicks: number;
  /** Where its last note ends. */
  readonly endTicks: number;
}

/**
 * The passages of a treble staff that are easier read an octave lower: two notes or more over three ledger lines, with all that lies high
 * enough beside them.
 * @param notes in time order
 */
export function octaveShifts(notes: readonly ScoreNote[]): OctaveShift[] {
  const shifts: OctaveShift[] = [];
  let run: ScoreNote[] = [];
  const close = (): void => {
    const [first, last] = [run[0], run.at(-1)];
    const high = run.filter(({ pitch }) => midiOf(pitch) >= OVER_LEDGERS).length;
    if (first !== undefined && last !== undefined && high >= FEWEST_HIGH)
      shifts.push({ startTicks: first.startTicks, endTicks: last.startTicks + last.durationTicks });
    run = [];
  };
  for (const note of notes) {
    const last = run.at(-1);
    const waits = last !== undefined && note.startTicks - last.startTicks - last.durationTicks >= LONGEST_SILENCE_TICKS;
    const isLow = midiOf(note.pitch) < LOWEST_IN_SHIFT;
    if (waits || isLow) close();
    if (!isLow) run.push(note);
  }
  close();
  return shifts;
}

/** The line's beginning or end. MusicXML says how the writing is moved: down, where it sounds higher. */
export const octaveShift = (type: 'down' | 'stop'): XmlElement => element('octave-shift', { type, size: 8 });
