export {
  ANSWERS,
  type Answers,
  METRONOMES,
  type Metronome,
  MOST_REST_BARS,
  NO_AIDS,
  type PracticeAids,
} from './aids.ts';
export {
  FASTEST_BPM,
  KEY_CYCLES,
  type KeyCycle,
  MOST_COUNT_IN_BARS,
  MOST_PROGRAMME_CHORUSES,
  type Programme,
  type ProgrammeChorus,
  SLOWEST_BPM,
  inTurn,
  keysAlong,
} from './programme.ts';
export {
  HEARD_PLAYERS,
  type HeardPlayer,
  type PlayedProgramme,
  type ProgrammeEvent,
  type ProgrammePlayer,
  type ProgrammeSegment,
} from './played-programme.ts';
export { playLessons, playProgramme } from './play-programme.ts';
export { LONGEST_PROGRAMME_MINUTES, USUAL_CHORUSES, programmeMinutes, usualProgramme } from './usual-programme.ts';
