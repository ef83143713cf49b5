export { improviseChorus, type ChorusNote } from './chorus.ts';
export { chorusFaults, wordsOfChorusFault } from './chorus-faults.ts';
export { wordsOfChorusReason } from './reason-words.ts';
export { phrasesOf } from './phrase.ts';
export { CHORUS_LEVELS, type ChorusLevel } from './level.ts';
export { MOST_MOTIVE_PINS, motiveFault, motivePinOf, type MotivePin } from './motive-pin.ts';
export { formatMotive, parseMotive } from './motive-text.ts';
export { HIGHEST_CHORUS_KEY, LOWEST_CHORUS_KEY } from './octave.ts';
export { pulsesOf } from './pulse.ts';
