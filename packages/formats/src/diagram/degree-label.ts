import {
  degree,
  degreeAbove,
  degreeOnStep,
  pitchClassOf,
  semitonesOf,
  stepOf,
  type Chord,
  type ChordScale,
  type Degree,
  type NoteName,
  type PitchClass,
} from '@fivespan/core';
import { degreeText } from './note-text.ts';

/** What a note does over a chord, as it is written on a key. */
export interface DegreeLabel {
  readonly pitchClass: PitchClass;
  /** `♭3`, `9`, `♯11`. */
  readonly text: string;
  readonly kind: 'chord tone' | 'tension' | 'rubs';
}

/** Degrees a player reads without a second thought. Common practice. */
const READABLE = new Set('1 b2 2 #2 b3 3 4 #4 b5 5 #5 b6 6 b7 7'.split(' ').map(degree));

/** By semitones above the root: what a note is called where its own spelling gives no readable degree. Common practice. */
const BY_SEMITONES: readonly Degree[] = '1 b2 2 b3 3 4 #4 5 b6 6 b7 7'.split(' ').map(degree);

/** The degree of a note over a chord, in a spelling that can be read: C♭ over C7 is its 7, not its ♭1. */
function readableDegree(chord: Chord, note: NoteName): Degree {
  const spelled = degreeAbove(chord.root, note);
  if (chord.degrees.includes(spelled)) return spelled;
  const semitones = semitonesOf(spelled);
  const inChord = chord.degrees.find((each) => semitonesOf(each) === semitones);
  if (inChord !== undefined) return inChord;
  const plain = READABLE.has(spelled) ? spelled : (BY_SEMITONES[semitones] as Degree);
  // over a major third a minor one is the ♯9 and a diminished fifth the ♯11; over a dominant or a minor chord the raised fifth is the ♭13
  if (plain === degree('b3') && chord.degrees.includes(degree('3'))) return degree('#2');
  if (plain === degree('b5') && chord.degrees.includes(degree('3'))) return degree('#4');
  if (plain === degree('#5') && (chord.quality === 'dominant' || chord.quality === 'minor')) return degree('b6');
  return plain;
}

/** Whether a degree of the chord is named as an extension: 9, 11, 13; in sus chords and sixth chords 4, 2 and 6 are plain. */
function isExtension(chord: Chord, value: Degree): boolean {
  const step = stepOf(value);
  if (chord.quality === 'suspended') {
    const suspended = degreeOnStep(chord, 3) ?? degreeOnStep(chord, 1);
    if (value === suspended) return false;
  }
  return step !== 5 || degreeOnStep(chord, 6) !== undefined;
}

/**
 * What a note does over a chord whose chord-scale is known.
 * @example degreeLabel(chord('Ebmaj7'), analysis.slots[2]!.chordScales[0]!, noteName('Ab')) // → { pitchClass: 8, text: '4', kind: 'rubs' }
 */
export function degreeLabel(chord: Chord, chordScale: ChordScale | null, note: NoteName): DegreeLabel {
  const target = pitchClassOf(note);
  const same = (each: NoteName): boolean => pitchClassOf(each) === target;
  // the chord-scale spells by function, a position by its thumb
  const spelled = chordScale?.notes.find(same) ?? note;
  const value = readableDegree(chord, spelled);
  if (chord.degrees.includes(value)) {
    return {
      pitchClass: target,
      text: degreeText(value, isExtension(chord, value) ? 'extension' : 'octave'),
      kind: 'chord tone',
    };
  }
  if (chordScale?.avoid.some((each) => same(each.note)) === true) {
    return { pitchClass: target, text: degreeText(value, 'octave'), kind: 'rubs' };
  }
  return { pitchClass: target, text: degreeText(value, 'extension'), kind: 'tension' };
}

/** Labels for every note of a chord-scale over its chord, from its root up. */
export function degreeLabels(chord: Chord, chordScale: ChordScale): DegreeLabel[] {
  return chordScale.notes.map((each) => degreeLabel(chord, chordScale, each));
}
