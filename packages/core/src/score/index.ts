export type { Score, ScoreBar, ScoreChord, ScoreNote, ScoreStaff } from './score.ts';
export { DEFAULT_TEMPO_BPM, buildScore } from './build-score.ts';
