export * from './engine.ts';
export * from './lesson.ts';
export * from './make-lesson.ts';
export * from './compute-lesson.ts';
export { keysInMode } from './keys-in-mode.ts';
export * from './document.ts';
export * from './pack/index.ts';
export * from './report/index.ts';
export * from './programme/index.ts';
