import { degree, noteAbove, stepOf, type Degree } from './degree.ts';
import type { NoteName } from './note-name.ts';
import { setOfNotes, type PitchClassSet } from './pitch-class-set.ts';

/** What a chord is at heart; decides numerals and which chord-scales may serve it. */
export type ChordQuality =
  | 'major' // major third; no seventh, a sixth, or a major seventh
  | 'minor' // minor third, perfect fifth; any seventh or sixth
  | 'dominant' // major third and minor seventh, 'alt' and '+7' too
  | 'half-diminished'
  | 'diminished' // triad, °7 and °maj7
  | 'augmented' // major third, raised fifth, no minor seventh
  | 'suspended' // fourth or second in the place of the third
  | 'power'; // root and fifth alone

/** A chord as its symbol names it. */
export interface Chord {
  readonly kind: 'chord';
  readonly root: NoteName;
  readonly quality: ChordQuality;
  /** As stacked: 1, third, fifth, sixth or seventh, then 9 11 13 with their alterations. 'alt' is 1 3 b7 b9 #9 #11 b13. */
  readonly degrees: readonly Degree[];
  /** The written bass where it is not the root. */
  readonly bass: NoteName | null;
  /** The part of the canonical symbol after the root and before the slash: `m7b5`, `7(b9,b13)`, `7alt`. */
  readonly suffix: string;
  /** The one canonical way the chord is written, ASCII: `Fm7b5`, `Bb7(b9)/D`. */
  readonly symbol: string;
}

/** A place where nobody plays a chord. */
export interface NoChord {
  readonly kind: 'no chord';
  readonly symbol: 'N.C.';
}

export type ChordSymbol = Chord | NoChord;

/** The chord's notes, spelled, in the order of its degrees; a bass that is not in the chord is left out. */
export function notesOfChord(chord: Chord): NoteName[] {
  return chord.degrees.map((each) => noteAbove(chord.root, each));
}

/** The chord's pitch classes. */
export function setOfChord(chord: Chord): PitchClassSet {
  return setOfNotes(notesOfChord(chord));
}

/** The chord's degree on a letter distance above the root (2 is the third), or undefined. The first where there are two. */
export function degreeOnStep(chord: Chord, step: number): Degree | undefined {
  return chord.degrees.find((each) => stepOf(each) === step);
}

/**
 * Guide tones: third and seventh; the fourth (or second) where the third is suspended; the sixth where there is no
 * seventh. Common practice. A triad has its third alone, a power chord none.
 */
export function guideTonesOf(chord: Chord): Degree[] {
  const third =
    degreeOnStep(chord, 2) ??
    (chord.quality === 'suspended' ? (degreeOnStep(chord, 3) ?? degreeOnStep(chord, 1)) : undefined);
  const seventh = degreeOnStep(chord, 6) ?? [degree('6'), degree('bb7')].find((each) => chord.degrees.includes(each));
  return [third, seventh].filter((each) => each !== undefined);
}
