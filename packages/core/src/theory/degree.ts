import { modulo, noteNameFromFifths, type NoteName } from './note-name.ts';

/**
 * A spelled interval above a root, octaves apart counted as one: 1, ♭3, ♯11. Held as the distance on the line of
 * fifths (5 is +1, ♭3 is −3, ♯11 is +6), so that root + degree is the note, spelled.
 * Degrees are named as chords name them, against the major scale on the root.
 */
export type Degree = number & { readonly __brand: 'Degree' };

/** Distance on the line of fifths of the major scale's seven degrees. */
const FIFTHS_OF_STEP: readonly number[] = [0, 2, 4, -1, 1, 3, 5];

/**
 * Reads a degree: accidentals, then a number from 1 to 15. 9 and 2 are one degree, 11 and 4, 13 and 6.
 * @returns undefined where the text is no degree.
 * @example parseDegree('b9') === parseDegree('b2') // → true
 */
export function parseDegree(text: string): Degree | undefined {
  const match = /^(b{0,2}|♭{0,2}|#{0,2}|♯{0,2})([1-9]|1[0-5])$/u.exec(text);
  if (match === null) return undefined;
  const [, accidentals = '', digits = ''] = match;
  const perAccidental = /[b♭]/u.test(accidentals) ? -7 : 7;
  return ((FIFTHS_OF_STEP[(Number(digits) - 1) % 7] as number) + perAccidental * [...accidentals].length) as Degree;
}

/**
 * The degree a programmer wrote as a literal.
 * @throws TypeError where the text is no degree.
 */
export function degree(text: string): Degree {
  const value = parseDegree(text);
  if (value === undefined) throw new TypeError(`text must be a degree such as 'b9', not '${text}'`);
  return value;
}

/** Degrees written in one string, a space between two: `degrees('1 b3 5 b7')`. */
export function degrees(text: string): readonly Degree[] {
  return text.split(' ').map(degree);
}

/** The letter distance above the root, 0 (unison) to 6 (seventh). */
export function stepOf(value: Degree): number {
  return modulo(value * 4, 7);
}

/** Semitones above the root, 0 to 11. */
export function semitonesOf(value: Degree): number {
  return modulo(value * 7, 12);
}

/** Accidentals against the major scale: −1 for ♭3, +1 for ♯11. */
export function alterationOf(value: Degree): number {
  return (value - (FIFTHS_OF_STEP[stepOf(value)] as number)) / 7;
}

/**
 * A degree in ASCII, inside the octave (`b2`, `4`, `6`) or as a chord extension (`b9`, `11`, `13`).
 * @example formatDegree(degree('b9'), 'extension') // → 'b9'
 */
export function formatDegree(value: Degree, as: 'octave' | 'extension' = 'octave'): string {
  const alteration = alterationOf(value);
  const step = stepOf(value);
  const number = as === 'extension' && (step === 1 || step === 3 || step === 5) ? step + 8 : step + 1;
  return (alteration < 0 ? 'b' : '#').repeat(Math.abs(alteration)) + number;
}

/**
 * The note a degree above a root, spelled.
 * @throws RangeError where it would need more than two accidentals.
 * @example formatNoteName(noteAbove(noteName('F'), degree('b5'))) // → 'Cb'
 */
export function noteAbove(root: NoteName, value: Degree): NoteName {
  return noteNameFromFifths(root + value);
}

/** The degree of a note above a root. */
export function degreeAbove(root: NoteName, note: NoteName): Degree {
  return (note - root) as Degree;
}
