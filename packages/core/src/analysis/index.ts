export { analyse, closeKeys, rankedKeys } from './analyse.ts';
export { wordsOfReason } from './reasons.ts';
export { chordToneDegrees } from './ladder/note-function.ts';
export { wordsOfLadderReason } from './ladder/reason-words.ts';
export { chordScalesFor } from './ladder/ladder.ts';
export { type AvoidNote, type ChordScale, degreeInScale } from './chord-scale.ts';
export {
  type AnalysedSlot,
  type Analysis,
  type AnalysisPins,
  type CadenceKind,
  NO_ANALYSIS_PINS,
  type Reading,
  type Reason,
  type Region,
  type Role,
} from './analysis.ts';
export { keyIndexOf } from './harmony/key-spelling.ts';
