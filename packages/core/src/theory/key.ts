import { degree, degrees, noteAbove, type Degree } from './degree.ts';
import { formatNoteName, parseNoteName, noteName, type NoteName, type PitchClass } from './note-name.ts';
import { setOfNotes, type PitchClassSet } from './pitch-class-set.ts';

/** A major or minor key. */
export interface Key {
  readonly tonic: NoteName;
  readonly mode: 'major' | 'minor';
}

/** Degrees of the major key. Common practice. */
const MAJOR: readonly Degree[] = degrees('1 2 3 4 5 6 7');
/** Degrees of the minor key: natural, harmonic and melodic minor together. Common practice. */
const MINOR: readonly Degree[] = degrees('1 2 b3 4 5 b6 6 b7 7');

/** The usual tonics, by pitch class from C (../shared design, section 4: spelling). Common practice. */
const USUAL_TONICS = {
  major: ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'].map(noteName),
  minor: ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'].map(noteName),
} as const;

/**
 * Reads a key: a tonic, then `major` or `minor` (or nothing for major, `m` or `min` for minor, `M` or `maj` for major).
 * Only keys with at most seven accidentals are keys that can be written.
 * @returns undefined where the text is no key.
 * @example formatKey(parseKey('Eb major')!) // → 'Eb major'
 */
export function parseKey(text: string): Key | undefined {
  const match = /^([A-G][b#♭♯]?)\s*([Mm]aj(?:or)?|[Mm]in(?:or)?|[Mm]|-)?$/u.exec(text.trim());
  if (match === null) return undefined;
  const tonic = parseNoteName(match[1] ?? '');
  if (tonic === undefined) return undefined;
  const word = match[2] ?? 'major';
  const key: Key = { tonic, mode: /^M$|^maj/iu.test(word) && word !== 'm' ? 'major' : 'minor' };
  return Math.abs(signatureOf(key)) <= 7 ? key : undefined;
}

/** A key in words, ASCII: `Eb major`. */
export function formatKey(key: Key): string {
  return `${formatNoteName(key.tonic)} ${key.mode}`;
}

/** The key signature: sharps (positive) or flats (negative). */
export function signatureOf(key: Key): number {
  return key.mode === 'major' ? key.tonic : key.tonic - 3;
}

/** The notes a key allows, spelled: seven in major, nine in minor (natural, harmonic and melodic together). */
export function notesOfKey(key: Key): NoteName[] {
  return (key.mode === 'major' ? MAJOR : MINOR).map((each) => noteAbove(key.tonic, each));
}

/** The pitch classes a key allows (see notesOfKey). */
export function setOfKey(key: Key): PitchClassSet {
  return setOfNotes(notesOfKey(key));
}

/** The key on this pitch class as it is usually written. */
export function usualKey(tonic: PitchClass, mode: Key['mode']): Key {
  return { tonic: USUAL_TONICS[mode][tonic] as NoteName, mode };
}

/** The twelve usual keys of a mode, round the circle of fourths from C. */
export function usualKeys(mode: Key['mode']): Key[] {
  return Array.from({ length: 12 }, (_, step) => usualKey(((step * 5) % 12) as PitchClass, mode));
}

/** The relative key: A minor for C major, and back. */
export function relativeKey(key: Key): Key {
  return key.mode === 'major'
    ? { tonic: noteAbove(key.tonic, degree('6')), mode: 'minor' }
    : { tonic: noteAbove(key.tonic, degree('b3')), mode: 'major' };
}
