import {
  accidentalsOf,
  degree,
  noteNameFromFifths,
  pitchClassOf,
  semitonesOf,
  spellingsOf,
  stepOf,
  type Chord,
  type Degree,
  type NoteName,
} from '../../theory/index.ts';

const [MINOR_THIRD, SHARP_NINTH, THIRD, FLAT_FOURTH] = [degree('b3'), degree('#2'), degree('3'), degree('b4')];
const [FLAT_FIFTH, SHARP_FIFTH, FLAT_SIXTH] = [degree('b5'), degree('#5'), degree('b6')];

/**
 * A scale's degrees as they are written over a chord on the same root: a note of the chord keeps the chord's spelling
 * (7b5 has b5 where Lydian b7 has #4); a minor third beside the chord's major one is its #9; a major third beside the
 * chord's minor one is b4, unless the scale has another fourth; a sharp fifth beside the chord's flat one is b6.
 * @example degreesOver(chord('C7b5'), SCALE_KINDS.lydianFlat7.degrees).map((each) => formatDegree(each)) // → ['1', '2', '3', 'b5', '5', '6', 'b7']
 */
export function degreesOver(chord: Chord, scaleDegrees: readonly Degree[]): Degree[] {
  const hasMajorThird = chord.degrees.includes(THIRD);
  const hasMinorThird = chord.degrees.includes(MINOR_THIRD);
  const hasFourth = scaleDegrees.some((each) => stepOf(each) === 3);
  return scaleDegrees.map((each) => {
    const inChord = chord.degrees.find((own) => semitonesOf(own) === semitonesOf(each));
    if (inChord !== undefined) return inChord;
    if (each === MINOR_THIRD && hasMajorThird) return SHARP_NINTH;
    if (each === THIRD && hasMinorThird && !hasFourth) return FLAT_FOURTH;
    if (each === SHARP_FIFTH && chord.degrees.includes(FLAT_FIFTH)) return FLAT_SIXTH;
    return each;
  });
}

const isWritable = (fifths: number): boolean => fifths >= -15 && fifths <= 19;
const accidentals = (fifths: number): number => Math.abs(Math.floor((fifths + 1) / 7));

/** How many notes of these degrees on this root would need a double accidental. */
function doublesOn(root: NoteName, scaleDegrees: readonly Degree[]): number {
  return scaleDegrees.filter((each) => accidentals(root + each) > 1).length;
}

function accidentalsOn(root: NoteName, scaleDegrees: readonly Degree[]): number {
  return scaleDegrees.reduce((sum, each) => sum + accidentals(root + each), 0);
}

/** The roots a scale of one's own choice is written on: flats first, without E#, B#, Cb and Fb. Common practice. */
function readableRoots(root: NoteName): NoteName[] {
  const spellings = spellingsOf(pitchClassOf(root), 1);
  const natural = spellings.find((each) => accidentalsOf(each) === 0);
  return natural === undefined ? spellings.sort((a, b) => a - b) : [natural];
}

/** The note at a place on the line of fifths, or its enharmonic with fewer accidentals where it cannot be written. */
function written(fifths: number): NoteName {
  return noteNameFromFifths(isWritable(fifths) ? fifths : fifths + (fifths < 0 ? 12 : -12));
}

/** A note with a double accidental as the plain note of the same key. */
function plain(note: NoteName): NoteName {
  if (Math.abs(accidentalsOf(note)) < 2) return note;
  return spellingsOf(pitchClassOf(note), 1)[0] ?? note;
}

/** An inside scale: exactly its degrees above the root, double accidentals and all (design, 'Spelling'). */
export function spellExactly(root: NoteName, scaleDegrees: readonly Degree[]): NoteName[] {
  return scaleDegrees.map((each) => written(root + each));
}

/**
 * The root an outside scale is written on: the one given, unless the scale would need a double accidental there and
 * fewer on the enharmonic root (design, 'Spelling').
 */
export function movedRoot(root: NoteName, scaleDegrees: readonly Degree[]): NoteName {
  return [root, ...readableRoots(root)].reduce((best, each) =>
    doublesOn(each, scaleDegrees) < doublesOn(best, scaleDegrees) ? each : best,
  );
}

/** The root a slipped scale is written on: fewest double accidentals, then fewest accidentals, then flats. */
export function simplestRoot(root: NoteName, scaleDegrees: readonly Degree[]): NoteName {
  return readableRoots(root).reduce((best, each) => {
    const doubles = doublesOn(each, scaleDegrees) - doublesOn(best, scaleDegrees);
    const fewer = accidentalsOn(each, scaleDegrees) - accidentalsOn(best, scaleDegrees);
    return doubles < 0 || (doubles === 0 && fewer < 0) ? each : best;
  });
}

/**
 * An outside scale on its root. What would still need a double accidental (the b9 of Ab altered, the #9 of C# altered)
 * is written as the plain note, as musicians do.
 */
export function spellPlainly(root: NoteName, scaleDegrees: readonly Degree[]): NoteName[] {
  return scaleDegrees.map((each) => plain(written(root + each)));
}
