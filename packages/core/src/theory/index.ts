export * from './note-name.ts';
export * from './degree.ts';
export * from './pitch.ts';
export * from './pitch-class-set.ts';
export * from './key.ts';
export * from './chord.ts';
export * from './scale.ts';
export * from './typeset.ts';
