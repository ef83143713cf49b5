export * from './ladder/note-function.ts';
export * from './ladder/reason-words.ts';
export * from './ladder/ladder.ts';
export * from './chord-scale.ts';
export * from './analysis.ts';
