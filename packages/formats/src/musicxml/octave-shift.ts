import { midiOf, type ScoreNote } from '@fivespan/core';
import { element, type XmlElement } from './xml.ts';

/** From here up a note is over three ledger lines of the treble clef or more: E6. */
const OVER_LEDGERS = 88;
/** An octave lower a phrase may lie down to middle C, one ledger line under the staff: C5. */
const LOWEST_IN_SHIFT = 72;
/** One high note is read by its ledger lines; a passage has two or more. Common practice. */
const FEWEST_HIGH = 2;
/**
 * A line begins and ends where the music breathes, at a rest of a quarter or more: inside a beam or a triplet a reader would
 * see a leap where the hand makes none. Common practice.
 */
const BREATH_TICKS = 960;
/** A silence of a bar of four ends a passage. Our own. */
const LONGEST_SILENCE_TICKS = 3840;

/** A passage that is written an octave lower under an 8va line. Ticks of the score. */
export interface OctaveShift {
  readonly startTicks: number;
  /** Where its last note ends. */
  readonly endTicks: number;
}

/**
 * The passages of a treble staff that are easier read an octave lower: whole phrases with two notes or more over three ledger
 * lines and none that would fall under middle C. Neighbours share a line.
 * @param notes in time order
 * @example octaveShifts([]) // → []
 */
export function octaveShifts(notes: readonly ScoreNote[]): OctaveShift[] {
  const shifts: OctaveShift[] = [];
  for (const phrase of phrasesOf(notes)) {
    const keys = phrase.map(({ pitch }) => midiOf(pitch));
    const isHigh = keys.filter((key) => key >= OVER_LEDGERS).length >= FEWEST_HIGH;
    if (!isHigh || Math.min(...keys) < LOWEST_IN_SHIFT) continue;
    const [startTicks, endTicks] = [(phrase[0] as ScoreNote).startTicks, endOf(phrase.at(-1) as ScoreNote)];
    const before = shifts.at(-1);
    const goesOn =
      before !== undefined &&
      startTicks - before.endTicks < LONGEST_SILENCE_TICKS &&
      !notes.some((note) => note.startTicks >= before.endTicks && note.startTicks < startTicks);
    if (goesOn) shifts[shifts.length - 1] = { startTicks: before.startTicks, endTicks };
    else shifts.push({ startTicks, endTicks });
  }
  return shifts;
}

const endOf = ({ startTicks, durationTicks }: ScoreNote): number => startTicks + durationTicks;

/** The notes between two breaths. */
function phrasesOf(notes: readonly ScoreNote[]): ScoreNote[][] {
  const phrases: ScoreNote[][] = [];
  for (const note of notes) {
    const last = phrases.at(-1)?.at(-1);
    if (last === undefined || note.startTicks - endOf(last) >= BREATH_TICKS) phrases.push([note]);
    else phrases.at(-1)?.push(note);
  }
  return phrases;
}

/** The line's beginning or end. MusicXML says how the writing is moved: down, where it sounds higher. */
export const octaveShift = (type: 'down' | 'stop'): XmlElement => element('octave-shift', { type, size: 8 });
