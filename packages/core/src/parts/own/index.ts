export {
  LINES,
  LINE_RULES,
  LONGEST_PIN_TICKS,
  type LineId,
  MOST_NOTES_OF_PIN,
  type NotePin,
  SHORTEST_PINNED_TICKS,
} from './note-pin.ts';
export { withOwnChorus } from './own-chorus.ts';
export { withOwnBass } from './own-bass.ts';
export { inBassRange } from './bass-range.ts';
export { movedSymbol, notePinIssues } from './own-stretch.ts';
export { isOwnReasonCode, wordsOfOwnReason } from './own-reason.ts';
export { type NoteEdit, editNotes, keyByStep, pinOfStretch } from './edit-notes.ts';
export { isLeap, ownNotesTold } from './own-told.ts';
export {
  LONGEST_PHRASE_NAME,
  MOST_CHORDS_OF_PHRASE,
  MOST_NOTES_OF_PHRASE,
  MOST_PHRASES,
  type Phrase,
  type PlacedPhrase,
  findPhrase,
  liesOverItsChords,
  movedPhrase,
  phraseName,
  phraseOf,
  placedPhrase,
} from './phrase.ts';
export { shiftNote } from './shift-note.ts';
