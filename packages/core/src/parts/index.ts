export {
  BASS_FEELS,
  BASS_RANGES,
  type BassChoice,
  type BassFeel,
  type BassNote,
  type BassRange,
  type HandNote,
  type PartNote,
} from './note.ts';
export {
  PARTS,
  type Part,
  type PartGroup,
  type PartNotes,
  type PartRow,
  type PartStaff,
  makeParts,
  partFaults,
  partOnStaff,
  stavesOf,
} from './part.ts';
export { NO_PART_PINS, type PartPins } from './part-pins.ts';
export { walkBass } from './walking-bass.ts';
export { HIGHEST_BASS, LOWEST_BASS } from './bass-line.ts';
export { bassFaults } from './bass-faults.ts';
export { arpeggioStudy, stackChord } from './arpeggios.ts';
export {
  CHORUS_LEVELS,
  type ChorusLevel,
  type ChorusNote,
  HIGHEST_CHORUS_KEY,
  LOWEST_CHORUS_KEY,
  chorusFaults,
  improviseChorus,
  phrasesOf,
  pulsesOf,
  wordsOfChorusFault,
} from './chorus/index.ts';
export {
  LINES,
  LONGEST_PIN_TICKS,
  type LineId,
  MOST_NOTES_OF_PIN,
  type NoteEdit,
  type NotePin,
  SHORTEST_PINNED_TICKS,
  editNotes,
  isLeap,
  keyByStep,
  movedSymbol,
  notePinIssues,
  ownNotesTold,
  pinOfStretch,
} from './own/index.ts';
export {
  MOST_PINNED_KEYS,
  VOICING_KINDS,
  type Voicing,
  type VoicingKind,
  type VoicingStyle,
  leadVoicings,
  motionBetween,
  motionOf,
  voicingPinIssues,
  voicingsOf,
  waysToVoice,
  wordsOfVoicingForm,
} from './voicings/index.ts';
export { COMP_DENSITIES, type CompChord, type CompDensity, comp } from './comping/index.ts';
export {
  type Drum,
  type DrumKit,
  type DrumStress,
  type DrumStroke,
  keyOfDrum,
  kitAt,
  playDrums,
} from './drums/index.ts';
export {
  DRILLS,
  DRILL_KINDS,
  DRILL_WORDS,
  type DrillKind,
  type DrillKindId,
  type Passage,
  type SourceBar,
  drawMotiveFor,
  motiveIn,
  nameOfPassage,
  twoTones,
  wordsOfPassage,
} from './drill/index.ts';
