export * from './note-pin.ts';
export { withOwnChorus } from './own-chorus.ts';
export { withOwnBass } from './own-bass.ts';
export { movedSymbol, notePinIssues } from './own-stretch.ts';
export { isOwnReasonCode, isRubbing, wordsOfOwnReason } from './own-reason.ts';
export { editNotes, keyByStep, pinOfStretch, type EditedNotes, type NoteEdit } from './edit-notes.ts';
export { isLeap, ownNotesTold } from './own-told.ts';
