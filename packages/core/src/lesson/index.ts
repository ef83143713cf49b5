export { ENGINE_VERSION } from './engine.ts';
export { type Choices, DEFAULT_CHOICES, type Lesson, nextSeed, PLAY_PAGES } from './lesson.ts';
export { groundOf, keysOfLesson, lessonMaker, makeLesson, routeOptionsOf } from './make-lesson.ts';
export { changePinsInKey, transposePhrase, transposePins, unmovedPhrase } from './pins-in-key.ts';
export { type TakeAsPlayed, judgeAsPlayed } from './judge-as-played.ts';
export { computeLesson, issueOfFault } from './compute-lesson.ts';
export { voicingsOfLesson } from './voicings-of-lesson.ts';
export { keysInMode, shownKey } from './keys-in-mode.ts';
export {
  DOCUMENT_VERSION,
  LONGEST_DOCUMENT_CHARACTERS,
  type LessonDocument,
  readLessonDocument,
  writeLessonDocument,
} from './document.ts';
export {
  LESSON_FILE,
  type LessonFileName,
  PACK_CHOICES,
  PACK_FILES,
  PART_ENDINGS,
  PART_READERS,
  type PackFileName,
  type PartFileName,
  type PartReader,
  SHEET_FILE,
  folderOfKey,
  folderOfTitle,
  packFileName,
  packPath,
  partFileName,
  readerOfFile,
} from './pack/index.ts';
export {
  type ChorusReport,
  type OwnShapeReport,
  type RouteReport,
  type ShapesReport,
  chordsAsWritten,
  familiesOf,
  reportAnalysis,
  reportBass,
  reportChorus,
  reportDrill,
  reportOwnShape,
  reportPositions,
  reportRoute,
  reportShapes,
  reportTake,
  reportVoicings,
} from './report/index.ts';
export {
  ANSWERS,
  type Answers,
  FASTEST_BPM,
  HEARD_PLAYERS,
  type HeardPlayer,
  KEY_CYCLES,
  type KeyCycle,
  LONGEST_PROGRAMME_MINUTES,
  METRONOMES,
  MOST_COUNT_IN_BARS,
  MOST_PROGRAMME_CHORUSES,
  MOST_REST_BARS,
  type Metronome,
  NO_AIDS,
  type PlayedProgramme,
  type PracticeAids,
  type Programme,
  type ProgrammeChorus,
  type ProgrammePlayer,
  type ProgrammeSegment,
  SLOWEST_BPM,
  USUAL_CHORUSES,
  inTurn,
  keysAlong,
  playProgramme,
  programmeMinutes,
  usualProgramme,
} from './programme/index.ts';
export {
  type Drill,
  type DrillInKey,
  type DrillOrder,
  KEY_ROUNDS,
  type KeyRound,
  type TempiAsked,
  keysRound,
  makeDrill,
  playDrill,
  programmeOfDrill,
  scoreOfDrill,
  stavesOfDrill,
  handLimitBpm,
  leftHandLimitBpm,
  ownNotesLimitBpm,
  wordsOfLimit,
} from './drill/index.ts';
export { type Film, type FilmTake, type LeftOutVoice, chosenScenes, makeFilm } from './film/index.ts';
