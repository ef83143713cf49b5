import {
  accidentalsOf,
  letterOf,
  modulo,
  noteAbove,
  noteNameFromFifths,
  pitchClassOf,
  spellingsOf,
  type NoteName,
  type PitchClass,
} from '../theory/index.ts';
import type { Shape } from './shape.ts';

/** The letters upwards; the place of a letter on this list and that on the line of fifths differ by a factor of four. */
const LETTERS = 'CDEFGAB';

/**
 * How the chord-scale would be written as a plain scale, each letter once: altered, spelled by function as
 * 1 ♭9 ♯9 3 ♯11 ♭13 ♭7, is 1 ♭2 ♭3 ♭4 ♭5 ♭6 ♭7. A set that has not seven notes, or has each letter once, is its own parent.
 * @param notes from the root up, spelled.
 */
export function parentSpelling(notes: readonly NoteName[]): readonly NoteName[] {
  const root = notes[0];
  if (root === undefined || notes.length !== 7 || new Set(notes.map(letterOf)).size === 7) return notes;
  const above = (note: NoteName): number => modulo(pitchClassOf(note) - pitchClassOf(root), 12);
  const ascending = [...notes].sort((a, b) => above(a) - above(b));
  const rootLetter = LETTERS.indexOf(letterOf(root));
  const respelled = ascending.map((note, step) =>
    spellingsOf(pitchClassOf(note), 2).find((each) => letterOf(each) === LETTERS[(rootLetter + step) % 7]),
  );
  return respelled.every((each) => each !== undefined) ? respelled : notes;
}

/**
 * How the thumb of a position inside a chord-scale is spelled, so that the whole position reads as a musician would
 * write it: of the enharmonic spellings the one with the fewest double accidentals in the position, then the most notes
 * as in the parent spelling, then the thumb as in the chord-scale, then the fewest accidentals, then the accidentals of
 * the root's side. Common practice.
 * @param notes the chord-scale from its root up, spelled.
 * @param parent its parent spelling, `parentSpelling(notes)`.
 */
export function spellThumb(
  shape: Shape,
  thumb: PitchClass,
  notes: readonly NoteName[],
  parent: readonly NoteName[],
): NoteName {
  let best: NoteName | undefined;
  let bestCosts: readonly number[] = [];
  const root = notes[0] ?? noteNameFromFifths(0);
  for (const candidate of spellingsOf(thumb, 2)) {
    const spelled = shape.degrees.map((each) => candidate + each);
    if (spelled.some((each) => each < -15 || each > 19)) continue;
    const position = shape.degrees.map((each) => noteAbove(candidate, each));
    const costs = [
      position.filter((each) => Math.abs(accidentalsOf(each)) > 1).length,
      position.filter((each) => !parent.includes(each)).length,
      notes.includes(candidate) ? 0 : 1,
      position.reduce((sum, each) => sum + Math.abs(accidentalsOf(each)), 0),
      Math.abs(candidate - root),
    ];
    if (best === undefined || isLess(costs, bestCosts)) {
      best = candidate;
      bestCosts = costs;
    }
  }
  if (best === undefined) throw new RangeError(`shape must be writable on some spelling of pitch class ${thumb}`);
  return best;
}

/** Compares lists of costs, the first difference decides. */
function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (const [index, each] of a.entries()) {
    const other = b[index] as number;
    if (each !== other) return each < other;
  }
  return false;
}
