export * from './note.ts';
export * from './walking-bass.ts';
export { LOWEST_BASS, HIGHEST_BASS } from './bass-line.ts';
export { wordsOfBassReason, type BassReasonCode } from './bass-reason-words.ts';
export type { BassLevel } from './walking-tones.ts';
export * from './arpeggios-stack.ts';
export * from './arpeggios.ts';
export * from './chorus/index.ts';
