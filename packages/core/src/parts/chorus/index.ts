export { improviseChorus, type ChorusNote, type ChorusOptions } from './chorus.ts';
export { chorusFaults, wordsOfChorusFault, type ChorusFault } from './chorus-faults.ts';
export { wordsOfChorusReason } from './reason-words.ts';
export { phrasesOf, PHRASE_GAP_TICKS } from './phrase.ts';
export { CHORUS_LEVELS, type ChorusLevel } from './level.ts';
export type { MotiveForm } from './motive.ts';
export type { MotiveMark } from './phrase-plan.ts';
export { HIGHEST_CHORUS_KEY, LOWEST_CHORUS_KEY } from './octave.ts';
export { pulsesOf } from './pulse.ts';
