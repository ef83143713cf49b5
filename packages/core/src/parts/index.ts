export * from './note.ts';
export * from './arpeggios-stack.ts';
export * from './arpeggios.ts';
