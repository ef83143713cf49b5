import {
  accidentalsOf,
  letterOf,
  modulo,
  noteNameFromFifths,
  pitchClassOf,
  spellingsOf,
  type NoteName,
  type PitchClass,
} from '../theory/index.ts';
import type { Shape } from './shape.ts';

/** What a note may be at the outside: two accidentals either way. */
const LOWEST_FIFTHS = -15;
const HIGHEST_FIFTHS = 19;

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

/** Whether a note reads well there: at most one accidental, unless the chord-scale itself is written so (F𝄪 in G♯ minor). */
function readsWell(note: number, notes: readonly NoteName[]): boolean {
  if (note < LOWEST_FIFTHS || note > HIGHEST_FIFTHS) return false;
  return Math.abs(accidentalsOf(note as NoteName)) <= 1 || notes.includes(note as NoteName);
}

/** The position's notes as a scale spells them, where it has them all, each on its letter, and they read well. */
function spelledAsIn(
  scale: readonly NoteName[],
  shape: Shape,
  thumb: PitchClass,
  reads: (note: NoteName) => boolean,
): NoteName[] | undefined {
  const spelled = shape.steps.map((step) => scale.find((note) => pitchClassOf(note) === (thumb + step) % 12));
  const isGood = spelled.every((note): note is NoteName => note !== undefined && reads(note));
  return isGood && new Set(spelled.map(letterOf)).size === spelled.length ? spelled : undefined;
}

/** Notes by the shape's degrees on the enharmonic spelling of the thumb that reads best. */
function spelledByThumb(
  shape: Shape,
  thumb: PitchClass,
  notes: readonly NoteName[],
  parent: readonly NoteName[],
): NoteName[] {
  let best: { spelled: number[]; costs: readonly number[] } | undefined;
  for (const candidate of spellingsOf(thumb, 2)) {
    const spelled = shape.degrees.map((each) => candidate + each);
    if (spelled.some((each) => each < LOWEST_FIFTHS || each > HIGHEST_FIFTHS)) continue;
    const costs = [
      spelled.filter((each) => !readsWell(each, [])).length,
      spelled.filter((each) => !parent.includes(each as NoteName)).length,
      notes.includes(candidate) ? 0 : 1,
      spelled.reduce((sum, each) => sum + Math.abs(accidentalsOf(each as NoteName)), 0),
      Math.abs(candidate - (notes[0] ?? 0)),
    ];
    if (best === undefined || isLess(costs, best.costs)) best = { spelled, costs };
  }
  if (best === undefined) throw new RangeError(`shape must be writable on some spelling of pitch class ${thumb}`);
  return best.spelled.map(noteNameFromFifths);
}

/**
 * How a position inside a chord-scale is spelled, thumb first, so that it reads as a musician would write it. In a scale
 * that can be written with each letter once, as that is: so the notes follow the thumb, over C7alt as D♭ F♭ G♭ A♭ B♭.
 * A note that would take a double accidental the scale does not have is written as the chord-scale's function has it: over
 * F7alt G♭ A C♭ D♭ E♭, the A being the chord's third. Otherwise by the thumb, on the spelling of it that reads best. Common practice.
 * @param notes the chord-scale from its root up, spelled.
 * @param parent its parent spelling, `parentSpelling(notes)`.
 */
export function spellPosition(
  shape: Shape,
  thumb: PitchClass,
  notes: readonly NoteName[],
  parent: readonly NoteName[],
): NoteName[] {
  const hasEachLetterOnce = new Set(parent.map(letterOf)).size === parent.length;
  return (
    (hasEachLetterOnce
      ? (spelledAsIn(parent, shape, thumb, (note) => readsWell(note, notes)) ??
        spelledAsIn([...parent.filter((note) => readsWell(note, [])), ...notes], shape, thumb, (note) =>
          readsWell(note, []),
        ))
      : // eight notes and more: as the chord-scale writes them, where no letter comes twice: over C7(b9) D♭ E G A C
        spelledAsIn(notes, shape, thumb, (note) => readsWell(note, []))) ?? spelledByThumb(shape, thumb, notes, parent)
  );
}

/** Compares lists of costs, the first difference decides. */
function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (const [index, each] of a.entries()) {
    const other = b[index] as number;
    if (each !== other) return each < other;
  }
  return false;
}
