/** The application's own files that are fetched when they are needed: fonts, sound bank. */
export { fetchBytes } from './fetch-bytes.ts';
export { placeFlacMemory } from './flac-memory.ts';
