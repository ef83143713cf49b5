export * from './analyse.ts';
export * from './reasons.ts';
export * from './ladder/note-function.ts';
export * from './ladder/reason-words.ts';
export { moveBetween } from './ladder/move.ts';
export * from './ladder/ladder.ts';
export * from './chord-scale.ts';
export * from './analysis.ts';
export { keyIndexOf } from './harmony/key-spelling.ts';
