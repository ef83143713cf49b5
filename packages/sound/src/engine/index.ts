export { MASTER_GAIN, planOf, prepare, type Plan, type Prepared } from './prepared.ts';
export { NoteStore, TONE_STEP, type StoredNote } from './note-store.ts';
export { SILENCE, type NoteNeed, type NoteUse, type RenderedNote } from './rendered-note.ts';
export * from './render.ts';
export * from './schedule.ts';
export * from './sound-engine.ts';
export { BLOCK_FRAMES, Synthesizer } from './synthesizer.ts';
export { soundingVelocity } from './velocity.ts';
