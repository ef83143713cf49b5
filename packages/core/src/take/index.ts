export type { HeardNote } from './take.ts';
export type { Finding, FindingCode, PraiseCode } from './finding.ts';
export { handsOf } from './hands.ts';
export { align } from './align.ts';
export { type JudgedTake, judgeTake } from './judge.ts';
export { PRAISE_WORDS, wordsOfFinding } from './words.ts';
export { barOneSeconds } from './start.ts';
export { type Stretch, type WrittenDown, type WrittenDownNote, writeDown } from './write-down.ts';
