import {
  containsSet,
  degree,
  degreeOnStep,
  differenceOf,
  noteAbove,
  pitchClassOf,
  setOfChord,
  setOfKey,
  setOfScale,
  sizeOf,
  unionOf,
  type Chord,
  type Key,
  SCALE_KINDS,
  type NoteName,
  type ScaleKind,
} from '../../theory/index.ts';
import type { Reading } from '../analysis.ts';
import type { ChordFunction } from './function-scales.ts';
import type { Acting } from './note-function.ts';

const [FLAT_NINTH, SHARP_NINTH, FLAT_THIRTEENTH, FLAT_FIFTH, SHARP_FIFTH, FIFTH, SIXTH, DOUBLE_FLAT_SEVENTH] = [
  degree('b9'),
  degree('#9'),
  degree('b13'),
  degree('b5'),
  degree('#5'),
  degree('5'),
  degree('6'),
  degree('bb7'),
];

/** Semitones of the chord's root above the key's tonic. */
function placeInKey(chord: Chord, key: Key): number {
  return (pitchClassOf(chord.root) - pitchClassOf(key.tonic) + 12) % 12;
}

/** The mode of the key's plain scale (natural minor in minor) on a root, or undefined where the root is not in it. */
export function diatonicMode(root: NoteName, key: Key): ScaleKind | undefined {
  const parent = pitchClassOf(key.tonic) + (key.mode === 'major' ? 0 : 3);
  const above = (pitchClassOf(root) - parent + 24) % 12;
  const modes: Readonly<Record<number, ScaleKind>> = {
    0: SCALE_KINDS.ionian,
    2: SCALE_KINDS.dorian,
    4: SCALE_KINDS.phrygian,
    5: SCALE_KINDS.lydian,
    7: SCALE_KINDS.mixolydian,
    9: SCALE_KINDS.aeolian,
    11: SCALE_KINDS.locrian,
  };
  return modes[above];
}

/** The mode of what a dominant leads to: as read, else as the key's plain triad on that degree has it. */
function modeOfTarget(chord: Chord, reading: Reading): Key['mode'] {
  if (reading.targetMode !== null) return reading.targetMode;
  const target = reading.target ?? noteAbove(chord.root, degree('4'));
  const place = (pitchClassOf(target) - pitchClassOf(reading.key.tonic) + 12) % 12;
  const minorPlaces = reading.key.mode === 'major' ? [2, 4, 9, 11] : [0, 2, 5, 7];
  return minorPlaces.includes(place) ? 'minor' : 'major';
}

/** A dominant that resolves down a fifth, by where it goes. */
function resolvingDominant(chord: Chord, reading: Reading): ChordFunction {
  if (modeOfTarget(chord, reading) === 'major') return 'dominant of major';
  const target = reading.target ?? noteAbove(chord.root, degree('4'));
  const place = (pitchClassOf(target) - pitchClassOf(reading.key.tonic) + 12) % 12;
  return reading.key.mode === 'major' && place === 2 ? 'dominant of the second' : 'dominant of minor';
}

function dominantFunction(chord: Chord, reading: Reading): ChordFunction {
  const { degrees: own } = chord;
  const altersNinth = own.includes(FLAT_NINTH) || own.includes(SHARP_NINTH);
  // 7(b9,b13) leaves room for the natural minor of its target, 7(#9,b13) and +7(b9) do not; a written 5 speaks against altered
  const altersFifth =
    own.includes(SHARP_FIFTH) ||
    own.includes(FLAT_FIFTH) ||
    (own.includes(FLAT_THIRTEENTH) && own.includes(SHARP_NINTH));
  if (!own.includes(FIFTH) && altersNinth && altersFifth) return 'altered dominant';
  if (own.includes(SHARP_FIFTH)) return 'augmented dominant';
  const place = placeInKey(chord, reading.key);
  const { role } = reading;
  if (role === 'substitute dominant' || role === 'backdoor dominant') return 'Lydian dominant';
  if (role === 'dominant' || role === 'applied dominant') return resolvingDominant(chord, reading);
  // IV7 and bVII7 of a minor key at rest have the notes of its mode; no dominant of theirs follows
  if (role === 'modal' || (role === 'predominant' && reading.key.mode === 'minor')) return 'modal dominant';
  if (place === 0) return 'blues tonic';
  // IV7, bVII7, bVI7, bIII7, bII7, #IV7: none leads down a fifth to a chord of the key
  if ([1, 3, 5, 6, 8, 10].includes(place)) return 'Lydian dominant';
  return resolvingDominant(chord, reading);
}

function minorFunction(chord: Chord, reading: Reading): ChordFunction {
  const place = placeInKey(chord, reading.key);
  const seventh = degreeOnStep(chord, 6);
  const isMinorSeventh = seventh === degree('b7');
  if (place === 0 && reading.role !== 'applied predominant') {
    return isMinorSeventh ? 'tonic minor seventh' : 'tonic minor';
  }
  if (seventh === degree('7')) return 'melodic minor chord';
  if (seventh === undefined && chord.degrees.includes(SIXTH)) {
    const key = unionOf(setOfKey(reading.key), setOfChord(chord));
    const outside = (kind: ScaleKind): number => sizeOf(differenceOf(setOfScale({ kind, root: chord.root }), key));
    return outside(SCALE_KINDS.dorian) <= outside(SCALE_KINDS.melodicMinor)
      ? 'predominant minor'
      : 'melodic minor chord';
  }
  if (reading.role.endsWith('predominant') && reading.role !== 'predominant') return 'predominant minor';
  const mode = diatonicMode(chord.root, reading.key);
  if (mode === SCALE_KINDS.phrygian) return 'third minor';
  if (mode === SCALE_KINDS.aeolian) return 'sixth minor';
  return 'predominant minor';
}

function majorFunction(chord: Chord, reading: Reading): ChordFunction {
  const isSeventh = degreeOnStep(chord, 6) !== undefined;
  if (!isSeventh && (reading.role === 'dominant' || reading.role === 'applied dominant')) {
    return resolvingDominant(chord, reading);
  }
  if (placeInKey(chord, reading.key) === 0) return 'tonic major';
  const mode = diatonicMode(chord.root, reading.key);
  if (mode === SCALE_KINDS.ionian || (isSeventh && placeInKey(chord, reading.key) === 7)) return 'tonic major';
  if (!isSeventh && mode === SCALE_KINDS.mixolydian) return 'dominant of major';
  return 'Lydian major';
}

function suspendedFunction(chord: Chord, reading: Reading): ChordFunction {
  const seventh = degreeOnStep(chord, 6);
  if (chord.degrees.includes(FLAT_NINTH)) {
    return modeOfTarget(chord, reading) === 'minor' ? 'suspended dominant of minor' : 'suspended flat ninth';
  }
  return seventh === degree('b7') ? 'suspended dominant' : 'plain mode';
}

/** What decides a chord's own chord-scale: what the chord does, as far as its scales differ. */
export function chordFunctionOf(chord: Chord, reading: Reading): ChordFunction {
  switch (chord.quality) {
    case 'dominant':
      return dominantFunction(chord, reading);
    case 'minor':
      return minorFunction(chord, reading);
    case 'major':
      return majorFunction(chord, reading);
    case 'half-diminished': {
      const isSecond = reading.role === 'applied predominant' || placeInKey(chord, reading.key) === 2;
      return isSecond ? 'second of minor' : 'half-diminished';
    }
    case 'diminished': {
      const isTriad = degreeOnStep(chord, 6) === undefined && !chord.degrees.includes(DOUBLE_FLAT_SEVENTH);
      return isTriad && placeInKey(chord, reading.key) === 11 ? 'leading-note triad' : 'diminished';
    }
    case 'augmented':
      return degreeOnStep(chord, 6) === undefined ? 'augmented triad' : 'augmented major';
    case 'suspended':
      return suspendedFunction(chord, reading);
    case 'power':
      return 'plain mode';
    default:
      return chord.quality satisfies never;
  }
}

/** What a chord does, as far as its avoid notes differ: the ii before a dominant, a triad or sus chord in a dominant's place. */
export function actingOf(chord: Chord, { key, role }: Reading, chordFunction: ChordFunction): Acting {
  // the iv before a backdoor dominant is its ii
  if (role === 'applied predominant' || role === 'backdoor predominant') return 'predominant';
  if (role === 'predominant' && placeInKey(chord, key) === 2) return 'predominant';
  const isDominant = chordFunction.startsWith('dominant of') || chordFunction.startsWith('suspended');
  return isDominant ? 'dominant' : 'neither';
}

/** Whether a scale kind on the chord's root holds all of the chord. */
export function holdsChord(kind: ScaleKind, chord: Chord): boolean {
  return containsSet(setOfScale({ kind, root: chord.root }), setOfChord(chord));
}
