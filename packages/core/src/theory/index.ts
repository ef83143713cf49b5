export {
  type NoteName,
  type PitchClass,
  accidentalsOf,
  formatNoteName,
  letterOf,
  modulo,
  noteName,
  noteNameFromFifths,
  parseNoteName,
  pitchClass,
  pitchClassOf,
  spellingsOf,
} from './note-name.ts';
export { noteTextIn } from './note-language.ts';
export {
  type Degree,
  alterationOf,
  degree,
  degreeAbove,
  degrees,
  formatDegree,
  noteAbove,
  parseDegree,
  semitonesOf,
  stepOf,
} from './degree.ts';
export { type Midi, type Pitch, formatPitch, midi, midiOf, pitchAt } from './pitch.ts';
export {
  type PitchClassSet,
  classesOf,
  containsClass,
  containsSet,
  differenceOf,
  setOfNotes,
  sizeOf,
  transposeSet,
  unionOf,
} from './pitch-class-set.ts';
export {
  type Key,
  formatKey,
  notesOfKey,
  parseKey,
  relativeKey,
  setOfKey,
  signatureOf,
  usualKey,
  usualKeys,
} from './key.ts';
export {
  type Chord,
  type ChordQuality,
  type ChordSymbol,
  degreeOnStep,
  guideTonesOf,
  notesOfChord,
  setOfChord,
} from './chord.ts';
export { SCALE_KINDS, type Scale, type ScaleFamily, type ScaleKind, notesOfScale, setOfScale } from './scale.ts';
export {
  type TritoneLetter,
  asKept,
  keptNames,
  nameOver,
  namesOfChord,
  ownNames,
  simpleName,
} from './names-over-chord.ts';
export { typeset } from './typeset.ts';
export {
  HUTCHINSON_KNOPOFF_TIMBRE,
  type RoughnessModel,
  SETHARES_TIMBRE,
  type SoundPartial,
  criticalBandwidthHz,
  hutchinsonKnopoffCurve,
  partialsOf,
  roughnessOf,
} from './roughness.ts';
export { referenceVoicing, relativeRoughness, roughnessOver } from './roughness-scale.ts';
export { CHORD_KINDS_BY_SYMBOL } from './chord-kinds.ts';
export { NO_CHORD, chordFromDegrees, isWritableOn, readChordSymbol, respelledChord } from './chord-symbol.ts';
