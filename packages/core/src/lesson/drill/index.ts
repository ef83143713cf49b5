export * from './drill.ts';
export * from './drill-score.ts';
export type { BarRange } from './drill-source.ts';
export type { DrilledLesson, PlacedPassage } from './drilled-lesson.ts';
export * from './key-round.ts';
export * from './tempo-ladder.ts';
export * from './play-drill.ts';
