/** The written parts, engraved for the screen. */
export { $engraved, engrave, stopEngraving, type EngravedParts, type EngravingWish } from './engraving.ts';
export type { EngravedLine } from './changed-lines.ts';
export { tracedNote, type TracedNote } from './traced-note.ts';
