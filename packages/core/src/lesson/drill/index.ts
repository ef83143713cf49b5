export { type Drill, type DrillInKey, type DrillOrder, makeDrill, programmeOfDrill } from './drill.ts';
export { scoreOfDrill, stavesOfDrill } from './drill-score.ts';
export { leftHandLimitBpm, ownNotesLimitBpm } from './hand-limits.ts';
export { KEY_ROUNDS, type KeyRound, keysRound } from './key-round.ts';
export { listenForOf } from './listen-for.ts';
export { handLimitBpm, type TempiAsked, wordsOfLimit } from './tempo-ladder.ts';
export { playDrill } from './play-drill.ts';
