export {
  LINES,
  LONGEST_PIN_TICKS,
  type LineId,
  MOST_NOTES_OF_PIN,
  type NotePin,
  SHORTEST_PINNED_TICKS,
} from './note-pin.ts';
export { withOwnChorus } from './own-chorus.ts';
export { withOwnBass } from './own-bass.ts';
export { movedSymbol, notePinIssues } from './own-stretch.ts';
export { isOwnReasonCode, wordsOfOwnReason } from './own-reason.ts';
export { type NoteEdit, editNotes, keyByStep, pinOfStretch } from './edit-notes.ts';
export { isLeap, ownNotesTold } from './own-told.ts';
