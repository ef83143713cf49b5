export { improviseChorus, type ChorusOptions } from './chorus.ts';
export { chorusFaults, wordsOfChorusFault, type ChorusFault } from './chorus-faults.ts';
export { wordsOfChorusReason } from './reason-words.ts';
export { phrasesOf, PHRASE_GAP_TICKS } from './phrase.ts';
export type { ChorusLevel } from './phrase-rhythm.ts';
