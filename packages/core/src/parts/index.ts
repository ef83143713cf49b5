export * from './note.ts';
export * from './walking-bass.ts';
export * from './arpeggios-stack.ts';
export * from './arpeggios.ts';
export * from './chorus/index.ts';
