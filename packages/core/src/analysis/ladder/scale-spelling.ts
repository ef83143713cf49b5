import {
  accidentalsOf,
  asKept,
  degree,
  noteNameFromFifths,
  ownNames,
  pitchClassOf,
  semitonesOf,
  simpleName,
  spellingsOf,
  stepOf,
  type Chord,
  type Degree,
  type Key,
  type NoteName,
  type ScaleKind,
  type TritoneLetter,
} from '../../theory/index.ts';
import type { ChordScale } from '../chord-scale.ts';

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

/** Scales that write the tritone above their root on the letter of the fifth, by the start of their id (docs/spelling.md, b). */
const WITH_FLAT_FIFTH = ['altered', 'locrian', 'bebop-locrian', 'blues'] as const;

/** On which letter a scale has the tritone above its root. */
export function tritoneLetterOf(kind: ScaleKind): TritoneLetter {
  return WITH_FLAT_FIFTH.some((each) => kind.id.startsWith(each)) ? 'fifth' : 'fourth';
}

/**
 * A scale's notes on its chord's own root: each on its letter, what would take a double accidental as the plain note, but
 * the chord's 1, 3, 5, 6 and 7 as the chord has them. A scale of seven letters keeps them; where a letter comes twice, the ♯9
 * and the tritone are named as over the chord: D altered D E♭ F F♯ A♭ B♭ C.
 * @param kept the names kept over the chord, `keptNames`
 */
export function spellOnChord(
  chord: Chord,
  key: Key,
  scaleDegrees: readonly Degree[],
  kept: readonly NoteName[],
): NoteName[] {
  const plain = scaleDegrees.map((each) => simpleName(chord.root + each));
  const hasLetterTwice = new Set(scaleDegrees.map(stepOf)).size < scaleDegrees.length;
  const names = hasLetterTwice || scaleDegrees.length !== 7 ? kept : ownNames(chord, key);
  return plain.map((note) => asKept(note, names));
}

/**
 * A kind's degrees as they are written where it stands on another root than the chord's, by rule (b) of docs/spelling.md as on its own:
 * the ♯9 beside a major third as the minor third, the tritone of altered scales as the fifth. A altered is A B♭ C C♯ E♭ F G.
 */
export function degreesElsewhere(kind: ScaleKind): Degree[] {
  const { degrees } = kind;
  return degrees.map((each) => {
    if (each === SHARP_NINTH && degrees.includes(THIRD)) return MINOR_THIRD;
    return semitonesOf(each) === 6 && tritoneLetterOf(kind) === 'fifth' ? FLAT_FIFTH : each;
  });
}

/** A scale on another root than the chord's: its own letters, a double accidental as the plain note. */
export function spellElsewhere(root: NoteName, scaleDegrees: readonly Degree[]): NoteName[] {
  return scaleDegrees.map((each) => simpleName(root + each));
}

/** The note away from a root by a degree; past what can be written it comes back enharmonically. */
export function noteAway(root: NoteName, by: Degree): NoteName {
  const fifths = root + by;
  return noteNameFromFifths(fifths < -15 ? fifths + 12 : fifths > 19 ? fifths - 12 : fifths);
}

/**
 * The root an outside scale away from the chord's root is written on: without E♯, B♯, C♭ and F♭; the name whose scale has
 * fewer double accidentals, then fewer accidentals, then flats.
 */
export function simplestRoot(root: NoteName, scaleDegrees: readonly Degree[]): NoteName {
  const names = spellingsOf(pitchClassOf(root), 1);
  const natural = names.find((each) => accidentalsOf(each) === 0);
  const accidentals = (name: NoteName): number[] =>
    scaleDegrees.map((each) => Math.abs(Math.floor((name + each + 1) / 7)));
  const cost = (name: NoteName): number =>
    accidentals(name).reduce((sum, each) => sum + each + (each > 1 ? 100 : 0), 0);
  const candidates = natural === undefined ? names.sort((a, b) => a - b) : [natural];
  return candidates.reduce((best, each) => (cost(each) < cost(best) ? each : best));
}

/**
 * Chord-scales of what a slash chord sounds as, keeping the letters of the chord that is written: over B♭/C♯, heard as a
 * C♯7(♭9,13), B♭ and F are played, not A♯ and E♯. Rule (a) of docs/spelling.md.
 * @param written the chord as its symbol says
 * @param sounding what the chord-scales were made for; on another root where it is not the chord itself
 */
export function keepingWritten(
  chordScales: readonly ChordScale[],
  written: Chord,
  sounding: Chord,
  key: Key,
): readonly ChordScale[] {
  if (written.root === sounding.root) return chordScales;
  const names = ownNames(written, key);
  const sounds = new Set(names.map(pitchClassOf));
  return chordScales.map((each) => ({
    ...each,
    kept: [...names, ...each.kept.filter((name) => !sounds.has(pitchClassOf(name)))],
  }));
}
