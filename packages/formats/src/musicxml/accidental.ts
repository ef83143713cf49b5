import { accidentalsOf, formatPitch, letterOf, noteName, signatureOf, type Key, type Pitch } from '@fivespan/core';

/** An accidental as MusicXML names it. */
export interface WrittenAccidental {
  readonly name: 'flat' | 'natural' | 'sharp' | 'double-sharp' | 'flat-flat';
  /** Not needed by the rule, written to remind. */
  readonly isCautionary: boolean;
}

const NAMES: Readonly<Record<number, WrittenAccidental['name']>> = {
  [-2]: 'flat-flat',
  [-1]: 'flat',
  0: 'natural',
  1: 'sharp',
  2: 'double-sharp',
};

/** What the key signature does to a letter: −1, 0 or 1. */
export function alterInKey(key: Key, letter: string): number {
  // on the line of fifths the key's seven notes are the seven places from its signature − 1
  return Math.floor((signatureOf(key) + 5 - noteName(letter)) / 7);
}

/** Remembers what accidentals a staff has shown. */
export interface AccidentalMemory {
  /** To be called at each bar line. */
  startBar(key: Key): void;
  /** The accidental to write before a note, undefined for none. A note tied from the bar before needs none. */
  next(pitch: Pitch, isTiedFrom: boolean): WrittenAccidental | undefined;
}

/**
 * Accidentals of one staff. The rule: an accidental holds for its line or space to the end of the bar. Cautionary ones
 * are written where the same letter was altered otherwise in another octave of the bar, or in the bar before. Common practice.
 */
export function accidentalMemory(): AccidentalMemory {
  let key: Key | undefined;
  let shown = new Map<string, number>();
  let byLetter = new Map<string, number>();
  let before = new Map<string, number>();
  return {
    startBar: (barKey) => {
      before = byLetter;
      key = barKey;
      shown = new Map();
      byLetter = new Map();
    },
    next: (pitch, isTiedFrom) => {
      if (key === undefined) throw new RangeError('startBar must be called before next');
      const letter = letterOf(pitch.name);
      const line = letter + pitch.octave;
      const alter = accidentalsOf(pitch.name);
      const name = NAMES[alter];
      if (name === undefined)
        throw new RangeError(`pitch must have at most two accidentals, not ${formatPitch(pitch)}`);
      if (isTiedFrom) return undefined;
      const inForce = shown.get(line) ?? alterInKey(key, letter);
      const elsewhere = byLetter.get(letter) ?? before.get(letter);
      const isNeeded = inForce !== alter;
      const isReminder = elsewhere !== undefined && elsewhere !== alter && !shown.has(line);
      byLetter.set(letter, alter);
      if (!isNeeded && !isReminder) return undefined;
      shown.set(line, alter);
      return { name, isCautionary: !isNeeded };
    },
  };
}
