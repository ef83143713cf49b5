import { modulo, pitchClassOf, type NoteName, type PitchClass } from './note-name.ts';

/** A set of pitch classes as a 12-bit mask: bit 0 is C, bit 11 is B. Fast enough for exhaustive search. */
export type PitchClassSet = number & { readonly __brand: 'PitchClassSet' };

const ALL_TWELVE = 0xfff;

/** The set holding these pitch classes. */
export function pitchClassSet(classes: Iterable<PitchClass>): PitchClassSet {
  let mask = 0;
  for (const each of classes) mask |= 1 << each;
  return mask as PitchClassSet;
}

/** The set of the notes' pitch classes. */
export function setOfNotes(notes: Iterable<NoteName>): PitchClassSet {
  let mask = 0;
  for (const note of notes) mask |= 1 << pitchClassOf(note);
  return mask as PitchClassSet;
}

/** The set moved up by semitones (any integer). */
export function transposeSet(set: PitchClassSet, semitones: number): PitchClassSet {
  const shift = modulo(semitones, 12);
  return (((set << shift) | (set >> (12 - shift))) & ALL_TWELVE) as PitchClassSet;
}

/** Whether `set` holds all of `part`. */
export function containsSet(set: PitchClassSet, part: PitchClassSet): boolean {
  return (set & part) === part;
}

/** Whether `set` holds the pitch class. */
export function containsClass(set: PitchClassSet, value: PitchClass): boolean {
  return (set & (1 << value)) !== 0;
}

export function unionOf(a: PitchClassSet, b: PitchClassSet): PitchClassSet {
  return (a | b) as PitchClassSet;
}

/** What `set` holds and `other` does not. */
export function differenceOf(set: PitchClassSet, other: PitchClassSet): PitchClassSet {
  return (set & ~other) as PitchClassSet;
}

/** How many pitch classes the set holds. */
export function sizeOf(set: PitchClassSet): number {
  let count = 0;
  for (let rest: number = set; rest !== 0; rest &= rest - 1) count++;
  return count;
}

/** The set's pitch classes, ascending from C. */
export function classesOf(set: PitchClassSet): PitchClass[] {
  const classes: PitchClass[] = [];
  for (let each = 0; each < 12; each++) if ((set & (1 << each)) !== 0) classes.push(each as PitchClass);
  return classes;
}
