export { writeMusicXml, type MusicXmlOptions } from './score-document.ts';
export { scoreNoteId, scoreNoteOf, type ScoreNotePlace } from './note-id.ts';
export { readMusicXml } from './lead-sheet-reading.ts';
export { writeLeadSheet } from './lead-sheet-document.ts';
export { readScoreHand, writeScoreFingers, type ScoreHand } from './finger-copy.ts';
export type { StaffChoice } from './hand-staff.ts';
export { fingerLine, type FingeredLine, type HandNote } from './hand-line.ts';
export { insertBytes, type Insertion } from './splice.ts';
export { zipOf } from './packing.ts';
