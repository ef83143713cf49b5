export { MASTER_GAIN, planOf, prepare, type Plan, type Prepared } from './prepared.ts';
export { NoteStore, SILENCE, TONE_STEP, type RenderedNote, type StoredNote } from './note-store.ts';
export * from './render.ts';
export * from './schedule.ts';
export * from './sound-engine.ts';
export { BLOCK_FRAMES, Synthesizer } from './synthesizer.ts';
export { soundingVelocity } from './velocity.ts';
