export * from './note-text.ts';
export * from './degree-label.ts';
export * from './keyboard-layout.ts';
export * from './keyboard-picture.ts';
export * from './palette.ts';
export * from './words.ts';
