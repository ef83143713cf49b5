import { degree, degrees, noteAbove, semitonesOf, type Degree } from './degree.ts';
import { pitchClass, pitchClassOf, type NoteName } from './note-name.ts';
import { pitchClassSet, type PitchClassSet } from './pitch-class-set.ts';

/**
 * The scale a kind is a mode of. 'combined' joins two of one root; 'bebop' scales are a mode with one passing note more,
 * 'own' ones are made for a chord that no table holds.
 */
export type ScaleFamily =
  | 'major'
  | 'melodic minor'
  | 'harmonic minor'
  | 'harmonic major'
  | 'diminished'
  | 'whole-tone'
  | 'bebop'
  | 'blues'
  | 'combined'
  | 'own';

/** A kind of scale: its name and degrees. */
export interface ScaleKind {
  /** Stable identifier: `locrian-natural-2`. */
  readonly id: string;
  /** The name a musician uses, ASCII: `Locrian natural 2`, `Lydian b7`, `altered`. */
  readonly name: string;
  /** From the root up, spelled by function. */
  readonly degrees: readonly Degree[];
  readonly family: ScaleFamily;
  /** Which mode of its family, from 1; null where the family has no modes of this kind. */
  readonly mode: number | null;
  /** The chromatic passing note of a bebop scale, played off the beat; else null. */
  readonly passing: Degree | null;
}

/** A scale on a root. */
export interface Scale {
  readonly kind: ScaleKind;
  readonly root: NoteName;
}

/** The scale's notes from its root up, spelled. */
export function notesOfScale(scale: Scale): NoteName[] {
  return scale.kind.degrees.map((each) => noteAbove(scale.root, each));
}

/** The scale's pitch classes; by sound, so that a root on which the scale could not be spelled has them too. */
export function setOfScale({ kind, root }: Scale): PitchClassSet {
  return pitchClassSet(kind.degrees.map((each) => pitchClass(pitchClassOf(root) + semitonesOf(each))));
}

function kind(
  id: string,
  name: string,
  spelled: string,
  family: ScaleFamily,
  mode: number | null = null,
  passing: string | null = null,
): ScaleKind {
  const passingDegree = passing === null ? null : degree(passing);
  return { id, name, degrees: degrees(spelled), family, mode, passing: passingDegree };
}

/**
 * Scale kinds by id. Contents and names: docs/sources.md, 6, and common practice; checked in all keys
 * against @musodojo/music-theory-data and tonal in checks/theory/scales.test.ts. Spelled by function: altered and
 * half-whole have the dominant's 3 and #9. A new kind is one row here; the ladder finds it by itself.
 */
export const SCALE_KINDS = {
  ionian: kind('ionian', 'Ionian', '1 2 3 4 5 6 7', 'major', 1),
  dorian: kind('dorian', 'Dorian', '1 2 b3 4 5 6 b7', 'major', 2),
  phrygian: kind('phrygian', 'Phrygian', '1 b2 b3 4 5 b6 b7', 'major', 3),
  lydian: kind('lydian', 'Lydian', '1 2 3 #4 5 6 7', 'major', 4),
  mixolydian: kind('mixolydian', 'Mixolydian', '1 2 3 4 5 6 b7', 'major', 5),
  aeolian: kind('aeolian', 'Aeolian', '1 2 b3 4 5 b6 b7', 'major', 6),
  locrian: kind('locrian', 'Locrian', '1 b2 b3 4 b5 b6 b7', 'major', 7),

  melodicMinor: kind('melodic-minor', 'melodic minor', '1 2 b3 4 5 6 7', 'melodic minor', 1),
  dorianFlat2: kind('dorian-b2', 'Dorian b2', '1 b2 b3 4 5 6 b7', 'melodic minor', 2),
  lydianAugmented: kind('lydian-augmented', 'Lydian augmented', '1 2 3 #4 #5 6 7', 'melodic minor', 3),
  lydianFlat7: kind('lydian-b7', 'Lydian b7', '1 2 3 #4 5 6 b7', 'melodic minor', 4),
  mixolydianFlat13: kind('mixolydian-b13', 'Mixolydian b13', '1 2 3 4 5 b6 b7', 'melodic minor', 5),
  locrianNatural2: kind('locrian-natural-2', 'Locrian natural 2', '1 2 b3 4 b5 b6 b7', 'melodic minor', 6),
  altered: kind('altered', 'altered', '1 b2 #2 3 #4 b6 b7', 'melodic minor', 7),

  harmonicMinor: kind('harmonic-minor', 'harmonic minor', '1 2 b3 4 5 b6 7', 'harmonic minor', 1),
  locrianNatural6: kind('locrian-natural-6', 'Locrian natural 6', '1 b2 b3 4 b5 6 b7', 'harmonic minor', 2),
  ionianAugmented: kind('ionian-augmented', 'Ionian augmented', '1 2 3 4 #5 6 7', 'harmonic minor', 3),
  dorianSharp4: kind('dorian-s4', 'Dorian #4', '1 2 b3 #4 5 6 b7', 'harmonic minor', 4),
  mixolydianFlat9Flat13: kind('mixolydian-b9-b13', 'Mixolydian b9 b13', '1 b2 3 4 5 b6 b7', 'harmonic minor', 5),
  lydianSharp2: kind('lydian-s2', 'Lydian #2', '1 #2 3 #4 5 6 7', 'harmonic minor', 6),
  alteredDoubleFlat7: kind('altered-bb7', 'altered bb7', '1 b2 b3 b4 b5 b6 bb7', 'harmonic minor', 7),

  harmonicMajor: kind('harmonic-major', 'harmonic major', '1 2 3 4 5 b6 7', 'harmonic major', 1),
  dorianFlat5: kind('dorian-b5', 'Dorian b5', '1 2 b3 4 b5 6 b7', 'harmonic major', 2),
  phrygianFlat4: kind('phrygian-b4', 'Phrygian b4', '1 b2 b3 b4 5 b6 b7', 'harmonic major', 3),
  melodicMinorSharp4: kind('melodic-minor-s4', 'melodic minor #4', '1 2 b3 #4 5 6 7', 'harmonic major', 4),
  mixolydianFlat9: kind('mixolydian-b9', 'Mixolydian b9', '1 b2 3 4 5 6 b7', 'harmonic major', 5),
  lydianAugmentedSharp2: kind('lydian-augmented-s2', 'Lydian augmented #2', '1 #2 3 #4 #5 6 7', 'harmonic major', 6),
  locrianDoubleFlat7: kind('locrian-bb7', 'Locrian bb7', '1 b2 b3 4 b5 b6 bb7', 'harmonic major', 7),

  halfWhole: kind('half-whole', 'half-whole diminished', '1 b2 #2 3 #4 5 6 b7', 'diminished', 1),
  wholeHalf: kind('whole-half', 'whole-half diminished', '1 2 b3 4 b5 b6 6 7', 'diminished', 2),
  wholeTone: kind('whole-tone', 'whole-tone', '1 2 3 #4 #5 b7', 'whole-tone', 1),
  /** The natural and the harmonic minor of a dominant's target together. */
  mixolydianFlat9Sharp9Flat13: kind('mixolydian-b9-s9-b13', 'Mixolydian b9 #9 b13', '1 b2 #2 3 4 5 b6 b7', 'combined'),

  bebopDominant: kind('bebop-dominant', 'bebop dominant', '1 2 3 4 5 6 b7 7', 'bebop', null, '7'),
  bebopMajor: kind('bebop-major', 'bebop major', '1 2 3 4 5 #5 6 7', 'bebop', null, '#5'),
  bebopDorian: kind('bebop-dorian', 'bebop Dorian', '1 2 b3 3 4 5 6 b7', 'bebop', null, '3'),
  bebopMelodicMinor: kind('bebop-melodic-minor', 'bebop melodic minor', '1 2 b3 4 5 #5 6 7', 'bebop', null, '#5'),
  bebopLocrian: kind('bebop-locrian', 'bebop Locrian', '1 b2 b3 4 b5 5 b6 b7', 'bebop', null, '5'),

  blues: kind('blues', 'blues', '1 b3 4 b5 5 b7', 'blues'),
} as const satisfies Record<string, ScaleKind>;
