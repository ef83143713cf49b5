export { improviseChorus, type ChorusOptions } from './chorus.ts';
export { chorusFaults } from './chorus-faults.ts';
export { wordsOfChorusReason } from './reason-words.ts';
export type { ChorusLevel } from './phrase-rhythm.ts';
