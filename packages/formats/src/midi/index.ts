export { writeMidi } from './midi-file.ts';
export { readMidiHand, writeMidiFingers, type MidiHand, type TrackChoice } from './finger-copy.ts';
export * from './programme-midi.ts';
export * from './take-midi.ts';
export { writeTakeMidi } from './write-take.ts';
